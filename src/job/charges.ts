import type { Decimal } from 'decimal.js';
import { whereIs } from '../findings/finding.js';
import { inUnit, limitsIn, type Quantity } from '../quantity/quantity.js';
import { D, unitOf } from '../quantity/units.js';
import { isLikelyCharge, oilToAdd, weigh } from '../resolve/fluids/charge.js';
import type { Charge as CompiledCharge } from '../schema/generated/compiled-job.js';
import type { Charge } from '../schema/generated/types.js';
import { asList } from '../library/scope.js';
import { goingOnIn } from '../plan/plan.js';
import { spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { readingsOf } from './readings.js';
import { plainNumber } from './format.js';
import { howMany, tellPerhaps } from './perhaps.js';
import { chargeInShopUnit, oilInShopUnit } from './shop-unit.js';

export interface CompiledCharges {
  readonly charges: CompiledCharge[];
  /** Grams to buy, by catalogue item. */
  readonly demand: ReadonlyMap<string, number>;
  /** Litres of the oil that goes in with them, by catalogue item. */
  readonly oils: ReadonlyMap<string, Decimal>;
}

/** Circuits that are filled by mass: what was recovered, what is missing, what goes in, and the oil with it. */
export function compileCharges(context: JobContext): CompiledCharges {
  const ids = [
    ...new Set(context.plan.steps.filter((step) => step.verb === 'drain' || step.verb === 'fill').flatMap((step) => step.objects)),
  ];
  const charges: CompiledCharge[] = [];
  const demand = new Map<string, number>();
  const oils = new Map<string, Decimal>();
  for (const id of ids) {
    const charge = context.plan.scope.charges.get(id);
    if (!charge) continue;
    const steps = context.plan.steps.filter((step) => (step.verb === 'drain' || step.verb === 'fill') && step.objects.includes(id));
    const recovered = readIn(context, charge.recovered, 'g');
    const balance = recovered ? weigh(inUnit(charge.charge, 'g'), inUnit(recovered, 'g')) : null;
    if (balance?.lost.lt(inUnit(charge.charge, 'g').neg()))
      context.report(
        'fluid/unlikely-charge',
        `${recovered?.text} were recovered of a circuit that takes ${charge.charge.text}. Is the unit right?`,
        spanOf(context.job.measured ?? context.job, charge.recovered ?? ''),
      );
    const limits = limitsIn(charge.charge, 'g');
    const low = limits.low && plainNumber(limits.low, 1);
    const high = limits.high && plainNumber(limits.high, 1);
    const oil = oilOf(context, id, charge);
    const n = charges.length;
    if (recovered && balance) work(context, id, charge, recovered, plainNumber(balance.lost, 1));
    charges.push({
      id,
      name: charge.name ?? id.replaceAll('-', ' '),
      spec: charge.spec ?? null,
      charge: `${plainNumber(inUnit(charge.charge, 'g'), 1)} g${low && high ? ` (${context.words.limit.range(low, high, 'g')})` : ''}`,
      low,
      high,
      recovered: recovered?.text ?? null,
      lost: balance ? `${plainNumber(balance.lost, 1)} g` : null,
      lostShare: balance ? plainNumber(balance.share.times(100), 1) : null,
      bottle: balance ? plainNumber(balance.bottle, 1) : null,
      oil: oil?.compiled ?? null,
      ...chargeInShopUnit(
        context,
        charge.charge.unit,
        { charge: inUnit(charge.charge, 'g'), lost: balance?.lost, bottle: balance?.bottle },
        limits,
      ),
      blanks: { recovered: `K-${String(2 * n + 1).padStart(2, '0')}`, charged: `K-${String(2 * n + 2).padStart(2, '0')}` },
      steps: steps.map(context.numberOf),
    });
    const fills = steps.filter((step) => step.verb === 'fill');
    const [first] = fills;
    // A charge that cannot be is told where it stands, and nothing is bought by it.
    if (!isLikelyCharge(inUnit(charge.charge, 'kg').toNumber())) continue;
    const certain = howMany(context, fills).least > 0;
    if (certain && oil && charge['oil-item']) oils.set(charge['oil-item'], oil.total.div(1000));
    if (!charge.item || !first) continue;
    if (certain) demand.set(charge.item, Math.ceil(inUnit(charge.charge, 'g').toNumber()));
    else tellPerhaps(context, first, charge.item, 'items', 1, `${plainNumber(inUnit(charge.charge, 'g'), 0)} g`);
  }
  return { charges, demand, oils };
}

function work(context: JobContext, id: string, charge: Charge, recovered: Quantity, lost: string): void {
  context.working(() => ({
    of: `charges/${id}/lost`,
    formula: 'lost = charge − recovered; the bottle gains what was recovered and gives the charge',
    inputs: [
      { name: 'charge', value: charge.charge.text, from: whereIs(spanOf(charge, 'charge')) },
      { name: 'recovered', value: recovered.text, from: whereIs(spanOf(context.job.measured ?? context.job, charge.recovered ?? '')) },
    ],
    result: `${lost} g`,
    rounding: '0.1 g',
  }));
}

/** What was read before the job, if it is of the kind that is weighed or poured; else that is told, where its limit does not tell it. */
function readIn(context: JobContext, name: string | undefined, symbol: string): Quantity | undefined {
  const [reading] = name === undefined ? [] : readingsOf(context.job, name, context.plan.scope.measurements);
  if (name === undefined || !reading || reading.unit.dimension === unitOf(symbol).dimension) return reading;
  const { limit, 'max-spread': spread } = context.plan.scope.measurements.get(name) ?? {};
  if (!limit && !spread)
    context.report(
      'measurement/other-kind',
      `\`${name}\` is measured in ${symbol}, and “${reading.text}” is something else. Write the reading with its right unit.`,
      spanOf(context.job.measured ?? context.job, name),
    );
  return undefined;
}

/** Oil that came out and oil for each part of the circuit that is renewed. */
function oilOf(
  context: JobContext,
  id: string,
  charge: Charge,
): { readonly compiled: NonNullable<CompiledCharge['oil']>; readonly total: Decimal } | null {
  const { scope } = context.plan;
  const parts = [...goingOnIn(context.plan).values()].flat().flatMap(({ object, isNew }) => {
    const part = scope.parts.get(object);
    return part?.oil && isNew && asList(part.circuit).includes(id) ? [inUnit(part.oil, 'mL')] : [];
  });
  const out = readIn(context, charge['oil-recovered'], 'mL');
  if (!out && parts.length === 0) return null;
  const recovered = out ? inUnit(out, 'mL') : new D(0);
  const { forParts, total } = oilToAdd(recovered, parts);
  context.working(() => ({
    of: `charges/${id}/oil/total`,
    formula: 'oil = what came out + what each renewed part takes',
    inputs: [
      { name: 'came out', value: out?.text ?? '0 mL (not measured)', from: out ? 'the job order' : 'assumed' },
      { name: 'parts', value: `${plainNumber(forParts, 1)} mL`, from: 'the vehicle profile' },
    ],
    result: `${plainNumber(total, 1)} mL`,
    rounding: '0.1 mL',
  }));
  return {
    compiled: {
      spec: charge.oil ?? null,
      recovered: plainNumber(recovered, 1),
      parts: plainNumber(forParts, 1),
      total: plainNumber(total, 1),
      ...oilInShopUnit(context, { recovered, parts: forParts, total }),
    },
    total,
  };
}
