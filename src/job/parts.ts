import { isFaulty } from './readings.js';
import { staysIn } from '../resolve/measure/judge.js';
import type { Decimal } from 'decimal.js';
import type { ShopDocument } from '../library/document.js';
import { cataloguesFor } from '../library/library.js';
import { holds } from '../library/variants.js';
import { isWhole } from '../library/written.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import { type Amount, nominalOf, type Quantity, unitsIn } from '../quantity/quantity.js';
import { D } from '../quantity/units.js';
import { type Cover, cheapestCover, type Offer } from '../resolve/parts/cover.js';
import { supersession } from '../resolve/parts/supersession.js';
import { type Band, sellingPrice } from '../resolve/price/markup.js';
import { moneyText, sum } from '../resolve/price/money.js';
import type { CompiledJob, Leftover, Purchase } from '../schema/generated/compiled-job.js';
import type { PartsDocument } from '../schema/generated/types.js';
import { fileWith, spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { type Demand, fluidsOfFinds, gatherDemand } from './demand.js';
import { buyFluids, cheapestWay, fluidsLeft } from './fluid-purchase.js';
import { quantityText } from './format.js';
import { volumeText } from './shop-unit.js';
import type { CompiledJoints } from './joints.js';
import { itemNames } from './item-names.js';
import { tellNoOffer } from './no-offer.js';
import { findWords, openFinds, tellOtherMeasure } from './perhaps.js';

type CatalogueOffer = PartsDocument['offers'][number];

export interface CompiledParts {
  readonly parts: CompiledJob['parts'];
  readonly total: Decimal;
  readonly fluidTotal: Decimal;
  readonly deposits: Decimal;
  /** Items that each step puts in new. */
  readonly byStep: ReadonlyMap<PlanStep, readonly { item: string; name: string; count: number }[]>;
  /** Waste classes of old parts, with how many. */
  readonly waste: ReadonlyMap<string, number>;
  /** What so many cases of what might be found cost that take so much of an item: pieces by the piece, a fluid by what is bought. */
  readonly priceOf: (item: string, amount: Amount, cases: number) => Decimal | null;
}

/** What asks for parts and fluids. */
interface Asking {
  readonly joints: CompiledJoints;
  /** Litres of each fluid that is poured. */
  readonly fluids: ReadonlyMap<string, Decimal>;
  /** Grams of each charge that is weighed in. */
  readonly charges: ReadonlyMap<string, number>;
  /** The code on the sheet of each choice that is made. */
  readonly choices: ReadonlyMap<string, string>;
}

/** What the steps and joints demand, and the cheapest way to buy it for this vehicle. */
export function compileParts(context: JobContext, { joints, fluids: fluidDemand, charges: massDemand, choices }: Asking): CompiledParts {
  const catalogues = cataloguesFor(context.library, context.vehicle.id);
  const names = itemNames(catalogues);
  const gathered = gatherDemand(context, joints, choices, names);
  const fitting = catalogues.flatMap((catalogue) => catalogue.offers).filter((offer) => holds(offer.fits, context.plan.facts) === true);
  const { old } = supersession(fitting.map((offer) => ({ number: offer.number, supersedes: offer.supersedes ?? [] })));
  const offers = fitting.filter((offer) => !old.has(offer.number));
  const byNumber = new Map(offers.map((offer) => [offer.number, offer]));
  const sold = once(soldBy, context.shop, () => new WeakMap<CatalogueOffer, Offer>());
  const priced = offers.map((offer) =>
    once(sold, offer, (): Offer => ({ id: offer.number, price: markedUp(context, offer.price), contains: amounts(offer) })),
  );

  const isDrum = ({ id }: Offer): boolean => byNumber.get(id)?.drawn === true;
  const whole = priced.filter((offer) => !isDrum(offer));

  const bought = buyWithCompanions(context, gathered.demand, whole, byNumber);
  const purchases = bought ? bought.buy.map(({ id, count }) => purchase(context, byNumber.get(id), count, names)) : [];
  const held = bought ? holdForChoices(context, gathered.demand, whole, bought) : new Map<string, string[]>();

  tellOtherMeasure(context, offers);
  const fluidUnits = new Map([...fluidDemand].map(([item, litres]) => [item, litres.times(1000).ceil().toNumber()]));
  for (const [item, grams] of massDemand) fluidUnits.set(item, grams);
  const weighed = new Set(massDemand.keys());
  for (const [item, one] of fluidsOfFinds(context, fluidUnits)) {
    fluidUnits.set(item, one.units);
    if (one.weighed) weighed.add(item);
  }
  const fluidOffers = { containers: whole, drums: priced.filter(isDrum) };
  const fluids = buyFluids(context, fluidUnits, fluidOffers, weighed);
  for (const { id, count } of [...(bought?.buy ?? []), ...fluids.cover]) tellCount(context, byNumber.get(id), count);
  const total = sum(purchases.map((one) => new D(one.amount)));
  const fluidPurchases = [
    ...fluids.cover.map(({ id, count }) => purchase(context, byNumber.get(id), count, names)),
    ...fluids.drawn.map(({ id, cost, amount: { amount: drawn, ...inShopUnit } }) => ({
      ...purchase(context, byNumber.get(id), 0, names),
      drawn,
      ...inShopUnit,
      amount: moneyText(cost, context.shop.currency),
    })),
  ];
  const fluidTotal = sum(fluidPurchases.map((one) => new D(one.amount)));
  const deposits = sum([...purchases, ...fluidPurchases].map((one) => (one.core ? new D(one.core).times(one.count) : new D(0))));
  if (bought) {
    context.working(() => ({
      of: 'parts/total',
      formula:
        bought.doubt > 0
          ? 'the cheapest set of offers found that covers the demand; with so many kits another may be cheaper'
          : 'the cheapest set of offers that covers the demand (integer optimum)',
      inputs: [
        { name: 'demand', value: gathered.demand.map((one) => `${one.count} × ${one.item}`).join(', '), from: 'steps and joints' },
        {
          name: 'offers',
          value: `${offers.length} that fit this vehicle`,
          from: catalogues.map((catalogue) => fileWith(catalogue).path).join(', '),
        },
        ...(bought.doubt > 0
          ? [{ name: 'cheaper by at most', value: `${(bought.doubt * 100).toFixed(1)} %`, from: 'linear relaxation' }]
          : []),
      ],
      result: moneyText(total, context.shop.currency),
      rounding: 'each line to the currency',
    }));
  }
  if (fluidPurchases.length > 0) {
    context.working(() => ({
      of: 'parts/fluidTotal',
      formula:
        'the cheapest containers that hold what is poured (integer optimum, each fluid for itself), or its share of a drum: price × amount / what it holds',
      inputs: [...fluidDemand].map(([item, amount]) => ({
        name: item,
        value: `${amount.toDecimalPlaces(3)} L`,
        from: 'fluids of this job',
      })),
      result: `${fluidPurchases.map((one) => `${one.drawn ?? `${one.count} ×`} ${one.number}`).join(', ')}: ${moneyText(fluidTotal, context.shop.currency)}`,
      rounding: 'each line to the currency',
    }));
  }
  return {
    parts: {
      demand: gathered.demand.map(({ item, count, choice, for: reasons }) => ({
        item,
        name: names.get(item) ?? item,
        count,
        for: reasons,
        choice,
      })),
      buy: purchases.map((one) => ({ ...one, hold: held.get(one.number) ?? [] })).sort(byBin),
      leftovers: bought ? piecesLeft(bought.leftovers, names) : [],
      perhaps: openFinds(context).flatMap(({ thing }) =>
        Object.entries(thing.items ?? {}).map(([item, amount]) => ({
          item,
          name: names.get(item) ?? item,
          count: ('pieces' in amount ? amount.pieces : 1) * (thing.count ?? 1),
          amount: 'pieces' in amount ? null : amountText(context, amount.quantity),
          if: findWords(thing),
        })),
      ),
      total: moneyText(total, context.shop.currency),
      fluids: fluidPurchases,
      fluidLeftovers: fluidsLeft(context, fluids.leftovers, weighed, names),
      fluidTotal: moneyText(fluidTotal, context.shop.currency),
    },
    total,
    fluidTotal,
    deposits,
    byStep: gathered.byStep,
    waste: gathered.waste,
    priceOf: (item, amount, cases) => {
      if ('pieces' in amount) {
        const single = cheapestCover(new Map([[item, 1]]), priced);
        return single.ok ? single.cover.cost.times(amount.pieces * cases) : null;
      }
      return cheapestWay(context, fluidOffers, item, unitsIn(amount) * cases)?.cost ?? null;
    },
  };
}

const byBin = (a: Purchase, b: Purchase): number =>
  (a.bin ?? '~') < (b.bin ?? '~') ? -1 : (a.bin ?? '~') > (b.bin ?? '~') ? 1 : a.number < b.number ? -1 : 1;

const markedUp = (context: JobContext, price: Decimal): Decimal => sellingPrice(price, bandsOf(context), context.shop.currency);

function bandsOf({ shop }: JobContext): Band[] {
  const bands = (shop['markup-bands'] ?? []).map((band): Band => ({ upTo: band['up-to'] ?? null, markup: nominalOf(band.markup) }));
  return shop.markup ? [...bands, { upTo: null, markup: nominalOf(shop.markup) }] : bands;
}

/** What each shop sells each offer for. */
const soldBy = new WeakMap<ShopDocument, WeakMap<CatalogueOffer, Offer>>();

const amounts = (offer: CatalogueOffer): ReadonlyMap<string, number> =>
  new Map(Object.entries(offer.contains).map(([item, amount]) => [item, unitsIn(amount)]));

function buy(context: JobContext, demand: readonly Demand[], offers: readonly Offer[]): Cover | null {
  const result = cheapestCover(new Map(demand.map((one) => [one.item, one.count])), offers);
  if (result.ok) return result.cover;
  for (const item of result.missing) {
    const line = demand.find((one) => one.item === item);
    if (!line) continue;
    const undecided = [...context.plan.scope.choices].find(([, choice]) => choice.item === item);
    if (undecided) {
      const [id, choice] = undecided;
      if (!isWhole(context.job, 'expect') || isFaulty(choice.from, context.plan.scope.measurements)) continue;
      tellNoOffer(
        context,
        item,
        `Which \`${item}\` it will be is chosen by \`${id}\`. Say in the job which one is expected: \`expect: { ${id}: ${choice.table.find(({ gives }) => gives !== staysIn)?.gives} }\`; the others are held until it is measured.`,
        spanOf(context.job, 'work', 'key'),
        null,
      );
    } else
      tellNoOffer(
        context,
        item,
        `Nothing in the parts catalogues that fits this vehicle contains \`${item}\` (${line.for.join(', ')}). Add an offer with its number and price.`,
        line.place(),
      );
  }
  const possible = new Map(demand.filter((one) => !result.missing.includes(one.item)).map((one) => [one.item, one.count]));
  const rest = cheapestCover(possible, offers);
  return rest.ok ? rest.cover : null;
}

/** An offer may ask for other parts to be changed with it: they join the demand, and all is bought anew. */
function buyWithCompanions(
  context: JobContext,
  demand: Demand[],
  offers: readonly Offer[],
  byNumber: ReadonlyMap<string, CatalogueOffer>,
): Cover | null {
  for (;;) {
    const bought = buy(context, demand, offers);
    const missing = (bought?.buy ?? []).flatMap(({ id, count }) => {
      const offer = byNumber.get(id);
      return Object.entries(offer?.['together-with'] ?? {}).flatMap(([item, each]) => {
        const wanted = each * count;
        const known = demand.find((one) => one.item === item);
        return offer && (known?.count ?? 0) < wanted ? [{ item, wanted, known, offer }] : [];
      });
    });
    if (missing.length === 0) return bought;
    for (const { item, wanted, known, offer } of missing) {
      if (known) known.count = wanted;
      else
        demand.push({
          item,
          count: wanted,
          for: [context.words.job.changedWith(offer.number)],
          choice: null,
          place: () => spanOf(offer['together-with'] ?? offer, item, 'key'),
        });
    }
  }
}

/** Until the choice is measured, the counter holds what each other outcome would need. */
function holdForChoices(context: JobContext, demand: readonly Demand[], offers: readonly Offer[], bought: Cover): Map<string, string[]> {
  const held = new Map<string, string[]>();
  for (const [, choice] of context.plan.scope.choices) {
    const those = demand.filter((one) => one.choice !== null && choice.table.some((row) => row.gives === one.item));
    const [expected] = those;
    if (!expected) continue;
    const holders = bought.buy.filter(({ id }) => those.some(({ item }) => offers.find((offer) => offer.id === id)?.contains.has(item)));
    if (holders.length === 0) continue;
    const others = choice.table
      .filter((row) => row.gives !== staysIn && !demand.some(({ item }) => item === row.gives))
      .flatMap((row) => {
        const other = cheapestCover(new Map(demand.map((one) => [one.item === expected.item ? row.gives : one.item, one.count])), offers);
        return other.ok
          ? other.cover.buy.filter(({ id }) => offers.find((offer) => offer.id === id)?.contains.has(row.gives)).map(({ id }) => id)
          : [];
      });
    for (const { id } of holders) held.set(id, [...new Set(others)]);
  }
  return held;
}

/** More of one offer than these no job buys: millilitres for litres are a thousand. */
const mostOfOne = 200;

function tellCount(context: JobContext, offer: CatalogueOffer | undefined, count: number): void {
  if (!offer || count <= mostOfOne) return;
  context.report(
    'parts/unlikely-count',
    `This job would buy \`${offer.number}\` ${count} times. Is what it contains right, with its unit?`,
    spanOf(offer, 'contains'),
    'warning',
  );
}

function purchase(context: JobContext, offer: CatalogueOffer | undefined, count: number, names: ReadonlyMap<string, string>): Purchase {
  if (!offer) throw new Error('an offer was bought that is not in the catalogue');
  const { currency } = context.shop;
  const price = markedUp(context, offer.price);
  return {
    number: offer.number,
    name: offer.name ?? names.get(Object.keys(offer.contains)[0] ?? '') ?? offer.number,
    count,
    drawn: null,
    price: moneyText(price, currency),
    amount: moneyText(price.times(count), currency),
    bin: offer.bin ?? null,
    contains: Object.entries(offer.contains).map(([item, amount]) => ({
      name: names.get(item) ?? item,
      amount: 'pieces' in amount ? `${amount.pieces}` : amount.quantity.text,
    })),
    core: offer.core ? moneyText(offer.core, currency) : null,
    supplier: cataloguesFor(context.library, context.vehicle.id).find(({ offers }) => offers.includes(offer))?.supplier ?? null,
    hold: [],
  };
}

const amountText = (context: JobContext, written: Quantity): string =>
  written.unit.dimension === 'volume' ? volumeText(context, written) : quantityText(written, context.words);

const piecesLeft = (leftovers: ReadonlyMap<string, number>, names: ReadonlyMap<string, string>): Leftover[] =>
  [...leftovers].map(([item, amount]) => ({ name: names.get(item) ?? item, amount: `${amount}` }));
