import type { Decimal } from 'decimal.js';
import { whereIs } from '../findings/finding.js';
import { openingPairs } from '../ledger/verbs.js';
import { asList } from '../library/scope.js';
import { notTold } from '../plan/cast.js';
import { isPouredBack, type PlanStep, poursBack } from '../plan/plan.js';
import { limitsIn, nominalOf } from '../quantity/quantity.js';
import { D } from '../quantity/units.js';
import { freezingPoint } from '../resolve/fluids/freezing.js';
import { refill, resultOf } from '../resolve/fluids/mixture.js';
import { roundsFor, roundsIntoRange, shareAfter } from '../resolve/fluids/rounds.js';
import { wayThrough } from '../resolve/fluids/ways.js';
import type { Fluid as CompiledFluid } from '../schema/generated/compiled-job.js';
import type { Fluid } from '../schema/generated/types.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { Words } from '../words/words.js';
import type { JobContext } from './context.js';
import { readingsOf } from './readings.js';
import { addTo } from './fluid-purchase.js';
import { limitText, litres, litresNumber, plainNumber, quantityText } from './format.js';
import { mixtureTable } from './mixture-table.js';
import { howMany, tellPerhaps } from './perhaps.js';
import { inShopUnit, shopUnitOf } from './shop-unit.js';

export interface CompiledFluids {
  readonly fluids: CompiledFluid[];
  /** Litres to buy, by catalogue item. */
  readonly demand: ReadonlyMap<string, Decimal>;
  /** Litres of waste, by waste class. */
  readonly waste: ReadonlyMap<string, Decimal>;
}

/** What comes out of each circuit, what stays in, and what is poured. */
export function compileFluids(context: JobContext): CompiledFluids {
  const ids = [
    ...new Set(context.plan.steps.filter((step) => step.verb === 'drain' || step.verb === 'fill').flatMap((step) => step.objects)),
  ];
  const fluids: CompiledFluid[] = [];
  const demand = new Map<string, Decimal>();
  const waste = new Map<string, Decimal>();
  for (const id of ids) {
    const fluid = context.plan.scope.fluids.get(id);
    const steps = context.plan.steps.filter((step) => (step.verb === 'drain' || step.verb === 'fill') && step.objects.includes(id));
    const drains = steps.filter((step) => step.verb === 'drain');
    const first = drains[0] ?? steps[0];
    if (!fluid || !first) continue;
    const way = drains.length > 0 ? wayOut(context, id, fluid, drains) : null;
    if (drains.length > 0 && !way) continue;
    const changes = howMany(context, drains.length > 0 ? drains : steps);
    const rounds = drains.length > 0 ? Math.max(1, changes.most) : 1;
    // What comes out may be what goes in again: then nothing is taken, and nothing is waste.
    const taken = steps.some(poursBack)
      ? howMany(
          context,
          steps.filter((step) => step.verb === 'fill' && !poursBack(step)),
        )
      : changes;
    // How often it is changed whatever the outcomes are.
    const certain = Math.min(taken.least, rounds);
    const capacity = litres(fluid.capacity);
    const drained = way ? litres(way.gives) : fluid['dry-fill'] ? litres(fluid['dry-fill']) : capacity;
    const recovered = way?.recovers ? litres(way.recovers) : drained;
    const limits = way ? limitsIn(way.gives, 'L') : { low: null, high: null };
    const low = limits.low && litresNumber(limits.low);
    const high = limits.high && litresNumber(limits.high);
    const pouredBack = isPouredBack(context.plan, id);
    const mix = !pouredBack && fluid.form === 'concentrate' && fluid.target ? compileMix(context, id, fluid, capacity, drained) : null;
    if (!pouredBack) checkReady(context, id, fluid, capacity, drained);
    workFluid(context, id, fluid, way, { capacity, drained, rounds });
    const n = fluids.length;
    fluids.push({
      id,
      name: fluid.name ?? id.replaceAll('-', ' '),
      spec: fluid.spec ?? null,
      accepted: [...(fluid.accepted ?? [])],
      capacity: litresNumber(capacity),
      ...inShopUnit(
        context,
        fluid.capacity.unit,
        { capacity, drained, recovered, residue: D.max(capacity.minus(drained), 0), pour: drained.times(rounds) },
        limits,
        mix,
      ),
      through: way ? way.through.map((one) => context.plan.scope.parts.get(one)?.name ?? one) : [],
      drained: litresNumber(drained),
      tolerance: low && high ? context.words.limit.range(low, high, 'L') : null,
      low,
      high,
      recovered: litresNumber(recovered),
      residue: litresNumber(D.max(capacity.minus(drained), 0)),
      pouredBack,
      rounds,
      shares: fluid['new-share']
        ? Array.from({ length: roundsFor(fluid, way) }, (_, i) => plainNumber(shareAfter(capacity, drained, i + 1).times(100), 2))
        : [],
      pour: litresNumber(drained.times(rounds)),
      mix: mix?.compiled ?? null,
      level: fluid.level ? levelText(fluid.level, context.words) : null,
      blanks: { recovered: `F-${String(2 * n + 1).padStart(2, '0')}`, poured: `F-${String(2 * n + 2).padStart(2, '0')}` },
      steps: steps.map(context.numberOf),
    });
    if (fluid['new-share'] && roundsFor(fluid, way) !== rounds && drains.length > 0) {
      context.report(
        'fluid/share-not-reached',
        `\`${id}\` reaches ${shareAfter(capacity, drained, rounds).times(100).toFixed(1)} % of new fluid here, not ${fluid['new-share'].text}: ${roundsFor(fluid, way)} partial changes are needed. Write \`repeat: ${id}\` in the procedure.`,
        spanOf(first.step, first.verb),
        'warning',
      );
    }
    if (certain < Math.min(taken.most, rounds) && fluid.item)
      tellPerhaps(context, first, fluid.item, 'items', 1, `${litresNumber(mix?.concentrate ?? drained)} L`);
    if (certain === 0) continue;
    if (mix) {
      addTo(demand, fluid.item, mix.concentrate);
      addTo(demand, fluid.water, mix.water);
    } else addTo(demand, fluid.item, drained.times(certain));
    if (way) addTo(waste, fluid.waste, recovered.times(certain));
  }
  return { fluids, demand, waste };
}

type Drain = NonNullable<Fluid['drains']>[number];

/** The workings of what stays in, what is poured and what share is new. */
function workFluid(
  context: JobContext,
  id: string,
  fluid: Fluid,
  way: Drain | null,
  sizes: { capacity: Decimal; drained: Decimal; rounds: number },
): void {
  const { capacity, drained, rounds } = sizes;
  const inside = () => ({ name: 'C', value: fluid.capacity.text, from: whereIs(spanOf(fluid, 'capacity')) });
  const out = () => ({
    name: 'd',
    value: `${litresNumber(drained)} L`,
    from: whereIs(way ? spanOf(way, 'gives') : spanOf(fluid, fluid['dry-fill'] ? 'dry-fill' : 'capacity')),
  });
  if (way)
    context.working(() => ({
      of: `fluids/${id}/residue`,
      formula: 'r = C − d',
      inputs: [inside(), out()],
      result: `${litresNumber(D.max(capacity.minus(drained), 0))} L`,
      rounding: 'two places, below a litre three',
    }));
  context.working(() => ({
    of: `fluids/${id}/pour`,
    formula: 'what came out goes back in: d × rounds',
    inputs: [out(), { name: 'rounds', value: String(rounds), from: 'the steps' }],
    result: `${litresNumber(drained.times(rounds))} L`,
    rounding: 'two places, below a litre three',
  }));
  const wanted = fluid['new-share'];
  if (!wanted) return;
  context.working(() => ({
    of: `fluids/${id}/shares`,
    formula: 'new share after n changes = 1 − (1 − d/C)^n',
    inputs: [inside(), out(), { name: 'wanted', value: wanted.text, from: whereIs(spanOf(fluid, 'new-share')) }],
    result: Array.from(
      { length: roundsFor(fluid, way) },
      (_, n) => `${plainNumber(shareAfter(capacity, drained, n + 1).times(100), 2)} %`,
    ).join(', '),
    rounding: 'two places',
  }));
}

/** The way to drain that the opened openings make: the largest set of the profile that is open. */
function wayOut(context: JobContext, id: string, fluid: Fluid, drains: readonly PlanStep[]): Drain | null {
  const owners = new Set(drains.map((step) => step.participant));
  const opened = new Set(
    context.plan.steps
      .filter((step) => owners.has(step.participant) && step.does.opens && openingPairs.has(step.does.opens))
      .flatMap((step) => step.objects)
      .filter((object) => asList(context.plan.scope.parts.get(object)?.circuit).includes(id)),
  );
  const best = wayThrough(fluid.drains, opened);
  if (best) return best;
  const step = drains[0];
  // That is told where it is needed.
  if (step && notTold(step.participant).length > 0) return null;
  const misspelt = context.plan.steps.some(
    (one) => owners.has(one.participant) && one.verb === 'open' && one.objects.some((object) => !context.plan.scope.parts.has(object)),
  );
  if (step && !misspelt && !isDamaged(fluid)) {
    const known = (fluid.drains ?? []).map((way) => way.through.join(' + ')).join(', or ');
    context.report(
      'fluid/unknown-drain',
      known === ''
        ? `\`${id}\` is drained here, and the vehicle profile knows no way out. Add \`drains: [{ through: […], gives: … }]\` to it there, with the openings and what comes out of them.`
        : `\`${id}\` is drained here, but none of the ways that the vehicle profile knows is open. It knows: ${known}. Open those before this step (with \`circuit: ${id}\` on each), or add the way with what it gives.`,
      spanOf(step.step, step.verb),
    );
  }
  return null;
}

function compileMix(context: JobContext, id: string, fluid: Fluid, capacity: Decimal, drained: Decimal) {
  const { target: written } = fluid;
  if (!written) return null;
  const target = nominalOf(written).div(100);
  const [measured] = fluid.strength ? readingsOf(context.job, fluid.strength, context.plan.scope.measurements) : [];
  const initial = measured ? nominalOf(measured).div(100) : target;
  const result = refill(capacity, drained, initial, target);
  const percent = (share: Decimal) => plainNumber(share.times(100), 2);
  const limits = fluid.range ? limitsIn(fluid.range, '%') : { low: null, high: null };
  if (!result.reached) {
    const inside = (!limits.low || result.result.times(100).gte(limits.low)) && (!limits.high || result.result.times(100).lte(limits.high));
    const span = measured ? spanOf(context.job.measured ?? context.job, fluid.strength ?? '') : spanOf(fluid, 'target');
    context.report(
      'fluid/out-of-reach',
      `With ${litresNumber(drained)} L changed of ${litresNumber(capacity)} L, \`${id}\` reaches ${percent(result.result)} % and not ${written.text}${inside ? ', which is within its range' : ''}. Drain through more openings, or change it ${roundsWords(roundsFrom(fluid, capacity, drained, initial, initial.lt(target) ? new D(1) : new D(0)))}.`,
      span,
      inside ? 'warning' : 'error',
    );
  }
  context.working(() => ({
    of: `fluids/${id}/mix/concentrate`,
    formula: 'concentrate = C · c_t − (C − d) · c_0; water = d − concentrate',
    inputs: [
      { name: 'C', value: fluid.capacity.text, from: whereIs(spanOf(fluid, 'capacity')) },
      { name: 'd', value: `${litresNumber(drained)} L`, from: whereIs(spanOf(fluid, 'drains', 'key')) },
      {
        name: 'c_0',
        value: measured?.text ?? `${written.text} (not measured yet; the table on the sheet corrects it)`,
        from: measured ? whereIs(spanOf(context.job.measured ?? context.job, fluid.strength ?? '')) : 'assumed',
      },
      { name: 'c_t', value: written.text, from: whereIs(spanOf(fluid, 'target')) },
    ],
    result: `${result.concentrate.toString()} L concentrate, ${result.water.toString()} L water`,
    rounding: 'printed to 0.01 L',
  }));
  const unit = shopUnitOf(context);
  return {
    concentrate: result.concentrate,
    water: result.water,
    tableInShopUnit: unit === null ? null : mixtureTable(context, fluid, drained, target, measured, unit),
    compiled: {
      initial: measured ? percent(initial) : null,
      target: percent(target),
      range: fluid.range ? limitText(fluid.range, context.words) : null,
      concentrate: result.concentrate.toString(),
      water: result.water.toString(),
      strength: percent(result.strength),
      result: percent(result.result),
      protects: freezingOf(context, id, fluid, result.result),
      readyMix: fluid['ready-mix'] ? readyMixOf(fluid, fluid['ready-mix'], capacity, drained, initial) : null,
      table: mixtureTable(context, fluid, drained, target, measured, 'L'),
    },
  };
}

/** Freezing point of the system, by the published table of its glycol; nothing is said outside the table. */
function freezingOf(context: JobContext, id: string, fluid: Fluid, share: Decimal): string | null {
  if (!fluid.glycol) return null;
  const celsius = freezingPoint(fluid.glycol, share);
  if (!celsius) return null;
  const shown = `${plainNumber(celsius, 0)} °C`;
  context.working(() => ({
    of: `fluids/${id}/mix/protects`,
    formula: 'freezing point, by proportion between the rows of the table',
    inputs: [
      { name: 'share', value: `${plainNumber(share.times(100), 2)} % by volume`, from: 'the mixture above' },
      { name: 'table', value: `${fluid.glycol} glycol`, from: 'ASHRAE Handbook Fundamentals 2001, chapter 21' },
    ],
    result: `${plainNumber(celsius, 2)} °C`,
    rounding: 'printed to 1 °C',
  }));
  return shown;
}

/** Rounds of one product that bring the system into its range; null where they never do. */
function roundsFrom(fluid: Fluid, capacity: Decimal, drained: Decimal, initial: Decimal, poured: Decimal): number | null {
  const limits = fluid.range ? limitsIn(fluid.range, '%') : { low: null, high: null };
  const target = fluid.target ? nominalOf(fluid.target).div(100) : new D(0);
  const rounds = roundsIntoRange(capacity, drained, initial, poured, limits.low?.div(100) ?? target, limits.high?.div(100) ?? target);
  return rounds.reached ? rounds.strengths.length : null;
}

const roundsWords = (rounds: number | null): string =>
  rounds === null ? 'more than once, with a weaker or stronger mixture' : rounds === 1 ? 'with a measured mixture' : `${rounds} times`;

function readyMixOf(fluid: Fluid, mix: NonNullable<Fluid['ready-mix']>, capacity: Decimal, drained: Decimal, initial: Decimal) {
  const strength = nominalOf(mix.strength).div(100);
  const gives = resultOf(capacity, drained, initial, strength);
  const limits = fluid.range ? limitsIn(fluid.range, '%') : { low: null, high: null };
  const percent = gives.times(100);
  const inRange = (!limits.low || percent.gte(limits.low)) && (!limits.high || percent.lte(limits.high));
  return {
    strength: plainNumber(strength.times(100), 2),
    gives: plainNumber(percent, 2),
    inRange,
    rounds: roundsFrom(fluid, capacity, drained, initial, strength),
  };
}

/** A ready mixture is poured as it is: what is left in the system decides what comes of it. */
function checkReady(context: JobContext, id: string, fluid: Fluid, capacity: Decimal, drained: Decimal): void {
  if (fluid.form !== 'ready' || !fluid.target || !fluid.product) return;
  const [measured] = fluid.strength ? readingsOf(context.job, fluid.strength, context.plan.scope.measurements) : [];
  if (!measured) return;
  const { gives, inRange, rounds } = readyMixOf(
    fluid,
    { item: fluid.item ?? '', strength: fluid.product },
    capacity,
    drained,
    nominalOf(measured).div(100),
  );
  if (new D(gives).eq(nominalOf(fluid.target))) return;
  const span = spanOf(context.job.measured ?? context.job, fluid.strength ?? '');
  const residue = litresNumber(capacity.minus(drained));
  if (inRange)
    context.report(
      'fluid/off-target',
      `With ${residue} L at ${measured.text} left in it, ${fluid.product.text} ready mixture makes ${gives} % in \`${id}\`: inside its range, but not ${fluid.target.text}. Say so to the customer, or pour concentrate and water.`,
      span,
      'warning',
    );
  else {
    const wider = (fluid.drains ?? []).filter((way) => litres(way.gives).gt(drained)).map((way) => way.through.at(-1));
    const open = wider[0] ? `Open the \`${wider[0]}\` too` : 'Drain through more openings';
    context.report(
      'fluid/out-of-reach',
      `With ${residue} L at ${measured.text} left in it, ${fluid.product.text} ready mixture makes ${gives} % in \`${id}\`, outside ${fluid.range?.text ?? fluid.target.text}. ${open}, pour concentrate and water, or change it ${roundsWords(rounds)}.`,
      span,
    );
  }
}

/** How a level is read: at which temperature, with the engine running or off, where, and what is right. */
export function levelText(level: NonNullable<Fluid['level']>, words: Words): string {
  const parts = [
    level.at ? limitText(level.at, words) : null,
    level.engine ? words.job.engine(level.engine) : null,
    level.attitude ? (level.attitude === 'on-ground' ? words.job.onGround : words.job.onLift) : null,
    level.wait ? words.job.wait(quantityText(level.wait, words)) : null,
  ].filter((part) => part !== null);
  return [parts.join(', '), level.says].filter(Boolean).join(': ');
}
