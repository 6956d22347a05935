import type { Decimal } from 'decimal.js';
import type { VehicleDocument } from '../library/document.js';
import { D } from '../quantity/units.js';
import { type Cover, cheapestCover, type Offer } from '../resolve/parts/cover.js';
import { cheapestDrawn } from '../resolve/parts/drawn.js';
import type { Leftover } from '../schema/generated/compiled-job.js';
import { spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import type { JobContext } from './context.js';
import { tellNoOffer } from './no-offer.js';
import { boughtInShopUnit } from './shop-unit.js';

/** What fluids are bought from: containers, and drums that are drawn from. */
export interface FluidOffers {
  readonly containers: readonly Offer[];
  readonly drums: readonly Offer[];
}

/** The cheapest way to an amount of a fluid: its share of a drum, where that costs no more than whole containers. */
interface Way {
  readonly cost: Decimal;
  readonly drawn: NonNullable<ReturnType<typeof cheapestDrawn>> | null;
  readonly cover: Cover | null;
}

/** @param amount in millilitres, or in grams of what is charged by mass */
export function cheapestWay({ shop }: JobContext, { containers, drums }: FluidOffers, item: string, amount: number): Way | null {
  const result = cheapestCover(new Map([[item, amount]]), containers);
  const drawn = amount > 0 ? cheapestDrawn(item, amount, drums, shop.currency) : null;
  if (drawn && (!result.ok || drawn.cost.lte(result.cover.cost))) return { cost: drawn.cost, drawn, cover: null };
  return result.ok ? { cost: result.cover.cost, drawn: null, cover: result.cover } : null;
}

/**
 * What is bought of the fluids of a job, each for itself, and what is left over of it.
 * @param weighed those that are bought by mass
 */
export function buyFluids(context: JobContext, demand: ReadonlyMap<string, number>, offers: FluidOffers, weighed: ReadonlySet<string>) {
  const cover: { id: string; count: number }[] = [];
  const drawn: { id: string; cost: Decimal; amount: Said }[] = [];
  const leftovers = new Map<string, number>();
  for (const [item, amount] of demand) {
    const way = cheapestWay(context, offers, item, amount);
    const massed = weighed.has(item);
    if (!way)
      tellNoOffer(
        context,
        item,
        `Nothing in the parts catalogues contains \`${item}\`, of which ${massed ? `${amount} g are charged` : `${amount / 1000} L are poured`}. Add an offer, for example \`contains: { ${item}: ${massed ? '100 g' : '5 L'} }\`.`,
        spanOf(context.job, 'work', 'key'),
        whereNamed(context.vehicle, item),
      );
    if (way?.drawn) drawn.push({ ...way.drawn, amount: said(context, amount, massed) });
    cover.push(...(way?.cover?.buy ?? []));
    for (const [name, left] of way?.cover?.leftovers ?? []) leftovers.set(name, (leftovers.get(name) ?? 0) + left);
  }
  return { cover, drawn, leftovers };
}

/** An amount in litres or grams, and in the shop's own unit. */
type Said = Pick<Leftover, 'amount' | 'inShopUnit'>;

const said = (context: JobContext, amount: number, massed: boolean): Said => ({
  amount: massed ? `${amount} g` : inLitres(amount),
  ...boughtInShopUnit(context, new D(amount), massed),
});

/** Millilitres in words; as they are where they are few. */
const inLitres = (amount: number): string => (amount < 100 ? `${amount} mL` : `${new D(amount).div(1000).toString()} L`);

/** Adds an amount to what there is of a thing; nothing where nobody names it. */
export function addTo(all: Map<string, Decimal>, name: string | undefined, amount: Decimal): void {
  if (name) all.set(name, (all.get(name) ?? new D(0)).plus(amount));
}

/** Amounts of the same things together. */
export function addedUp(...several: readonly ReadonlyMap<string, Decimal>[]): ReadonlyMap<string, Decimal> {
  const all = new Map<string, Decimal>();
  for (const one of several) for (const [item, amount] of one) addTo(all, item, amount);
  return all;
}

/** What is left over, the volumes before the masses. */
export function fluidsLeft(
  context: JobContext,
  leftovers: ReadonlyMap<string, number>,
  weighed: ReadonlySet<string>,
  names: ReadonlyMap<string, string>,
): Leftover[] {
  const left = [...leftovers].map(([item, amount]) => ({
    massed: weighed.has(item),
    line: { name: names.get(item) ?? item, ...said(context, amount, weighed.has(item)) },
  }));
  return [...left.filter(({ massed }) => !massed), ...left.filter(({ massed }) => massed)].map(({ line }) => line);
}

/** Where a profile names an item that is poured or charged. */
function whereNamed({ fluids = {}, charges = {} }: VehicleDocument, item: string): Span | undefined {
  const places = [
    ...Object.values(fluids).map((fluid) => [fluid, fluid.item === item ? 'item' : fluid.water === item ? 'water' : null] as const),
    ...Object.values(charges).map(
      (charge) => [charge, charge.item === item ? 'item' : charge['oil-item'] === item ? 'oil-item' : null] as const,
    ),
  ];
  for (const [holder, key] of places) if (key) return spanOf(holder, key);
  return undefined;
}
