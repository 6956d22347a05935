import { staysIn } from '../resolve/measure/judge.js';
import { once } from '../once.js';
import { goingOnIn, isItsOwnFastener, type PlanStep, putsOnOld } from '../plan/plan.js';
import { unitsIn } from '../quantity/quantity.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import { type JobContext, nameOf } from './context.js';
import type { CompiledJoints } from './joints.js';
import { fastenerOf, type GroupAtJoint, hasMethodAlone, jointsOfPart } from '../ledger/joints.js';
import { inWords } from '../library/names-in-words.js';
import { findWords, foundIn, isDone, isSettled, tellPerhaps } from './perhaps.js';
import { expectedOf } from './settled.js';

export interface Demand {
  readonly item: string;
  count: number;
  readonly for: string[];
  /** The choice that decides which item it really is. */
  readonly choice: string | null;
  /** Where it is asked for. */
  readonly place: () => Span;
}

/** One thing that a step puts in new. */
interface Want {
  readonly step: PlanStep;
  /** The item, and where a choice decides, the one that is expected. */
  readonly item: string;
  readonly choice: string | null;
  readonly count: number;
  /** What it is for. */
  readonly reason: string;
  /** The joint, and how often it was let go, where it is for one: until it is again, its fasteners go in new once, however often it is tightened. */
  readonly joint: string | null;
  readonly place: () => Span;
}

/**
 * What the steps put in new and what the joints do not take again, by item; and what becomes waste. Where steps wait for an
 * outcome, what is needed whatever it is: the rest is told to the customer as what might be found.
 * @param choices the code on the sheet of each choice that is made
 * @param names what the catalogues call their items
 */
export function gatherDemand(
  context: JobContext,
  joints: CompiledJoints,
  choices: ReadonlyMap<string, string>,
  names: ReadonlyMap<string, string>,
) {
  const gone: Want[] = [];
  const wants = [...wantsOf(context, joints, choices, gone)];
  wants.push(...wantsOfFinds(context, wants));
  const { certain, perhaps, more } = neededIn(context, wants);
  const told = new Set<string>();
  for (const { step, item, choice, place } of perhaps) {
    if (choice !== null || told.has(item)) continue;
    told.add(item);
    const count = more.get(item) ?? 1;
    tellPerhaps(context, step, item, 'items', count);
    const reasons = new Set(perhaps.flatMap((one) => (one.item === item ? one.reason : [])));
    if (!certain.has(item)) tellSets(context, { item, count, for: [...reasons], place }, names.get(item));
  }
  const demand = new Map<string, Demand>();
  const byStep = new Map<PlanStep, { item: string; name: string; count: number }[]>();
  const shown = new Set<string>();
  for (const { step, item, choice, count, reason, joint, place } of wants) {
    const need = certain.get(item);
    if (need !== undefined) {
      const line = once(demand, item, () => ({ item, count: need, for: [], choice, place }));
      if (!line.for.includes(reason)) line.for.push(reason);
    }
    if (joint !== null && shown.has(joint)) continue;
    if (joint !== null && !step.conditional) shown.add(joint);
    const ofStep = once(byStep, step, () => []);
    const known = ofStep.find((one) => one.item === item);
    if (known) known.count += count;
    else ofStep.push({ item, name: names.get(item) ?? nameOf(context, step.participant.scope, item), count });
  }
  for (const one of demand.values()) tellSets(context, one, names.get(one.item));
  return { demand: [...demand.values()], byStep, waste: neededIn(context, gone).certain };
}

/** What is sold as enough for several, by its name; in the languages of the tool. */
const soldAsSet = /\b(sets?|kits?|pairs?)\b|satz\b|s(ä|ae)tze\b|\bpaare?\b/;

/** Enough for one of several, by its name: then as many are meant. */
const forEach = /\b(per|each|one|single) (side|wheel|axle|caliper|cylinder)\b|\b(je|pro|einer?) (seite|rad|achse|zylinder)\b/;

/** Asks whether several sets are meant: mostly one is enough for all parts, and stands at each. */
function tellSets(context: JobContext, { item, count, for: reasons, place }: Omit<Demand, 'choice'>, name: string | undefined): void {
  const words = inWords(item, name);
  if (count < 2 || !soldAsSet.test(words) || forEach.test(words)) return;
  context.report(
    'parts/several-sets',
    `\`${item}\`${name === undefined ? '' : ` (${name})`} is ordered ${count} times, for ${reasons.join(' and ')}. Where one is enough, name it at one part alone, and leave out its \`count:\`.`,
    place(),
    'warning',
  );
}

/** @param gone takes the waste that old parts become, by class */
function* wantsOf(context: JobContext, joints: CompiledJoints, choices: ReadonlyMap<string, string>, gone: Want[]): Iterable<Want> {
  const byItem = new Map(
    [...context.plan.scope.choices].flatMap(([id, choice]) => (choice.item ? [[choice.item, { id, choice }] as const] : [])),
  );
  const want = (step: PlanStep, named: string, count: number, reason: string, place: () => Span, joint: string | null = null): Want[] => {
    const made = byItem.get(named);
    if (!made) return [{ step, item: named, choice: null, count, reason, joint, place }];
    const { id, choice } = made;
    const items = expectedOf(context.job, id, choice, context.plan.scope.measurements);
    if (count % items.length !== 0)
      context.report(
        'parts/count-chosen',
        `Each of ${items.length} readings chooses its own \`${named}\`, and ${count} ${count === 1 ? 'goes' : 'go'} in here. Write \`count: ${items.length}\` at the part, or as many times that as go to each reading.`,
        place(),
      );
    const each = Math.ceil(count / items.length);
    return items.flatMap((item) =>
      item === staysIn ? [] : { step, item: item ?? named, choice: choices.get(id) ?? id, count: each, reason, joint, place },
    );
  };
  const goingOn = goingOnIn(context.plan);
  const tightened = new Set([...joints.keys.values()].map(({ key }) => key));
  for (const step of context.plan.steps) {
    for (const { object, isNew } of goingOn.get(step) ?? []) {
      const part = step.participant.scope.parts.get(object);
      if (!part) continue;
      const reason = nameOf(context, step.participant.scope, object);
      if (isNew) {
        // What is its own fastener is taken with its joint.
        const withJoint = isItsOwnFastener(step.participant.scope, object);
        if (part.item && !withJoint) yield* want(step, part.item, part.count ?? 1, reason, () => spanOf(part, 'item'));
        else if (!part.item && !isDamaged(part))
          context.report(
            'parts/no-item',
            `\`${object}\` goes on new, but its part in the vehicle profile names no \`item:\` to order. Write its name in the parts catalogue there.`,
            spanOf(step.step, step.verb),
          );
        if (part.waste) gone.push(...want(step, part.waste, part.count ?? 1, reason, () => spanOf(part, 'waste')));
      }
      if (putsOnOld(step)) continue;
      for (const [item, count] of Object.entries(part.seals ?? {}))
        yield* want(step, item, count, reason, () => spanOf(part.seals ?? part, item, 'key'));
      for (const { joint, group } of goingOnWith(context, step, object))
        if (group?.item && group.reuse === 'never' && hasMethodAlone(group) && !tightened.has(joint.key))
          yield* want(step, group.item, group.count ?? 1, group.name ?? nameOf(context, step.participant.scope, joint.group), () =>
            spanOf(group, 'item'),
          );
    }
    for (const { joint, timesLetGo } of joints.byStep.get(step) ?? []) {
      // What stayed tight and is tightened again keeps its bolts; a trial is made with the old ones.
      const fastener = step.verb === 'tighten' && !putsOnOld(step) ? joints.fasteners.get(joint) : undefined;
      if (fastener?.reuse === 'never' && fastener.item)
        yield* want(
          step,
          fastener.item,
          fastener.count ?? 1,
          fastener.name ?? joint,
          () => spanOf(fastener, 'item'),
          `${joint}/${timesLetGo}`,
        );
    }
  }
}

/** What holds a part: clips and rings go on with it, where no step is written for them. */
const goingOnWith = ({ plan }: JobContext, { participant: { scope } }: PlanStep, part: string): readonly GroupAtJoint[] =>
  jointsOfPart(scope, part).map((joint) => ({ joint, group: fastenerOf(scope, joint, plan.facts) }));

/** What is known to be found takes new, beside what the steps do that wait for it. */
function wantsOfFinds(context: JobContext, wants: readonly Want[]): Want[] {
  const taken = new Set(wants.flatMap(({ step, item }) => (isSettled(context, step) ? [item] : [])));
  return foundIn(context).flatMap(({ thing, at }) =>
    Object.entries(thing.items ?? {}).flatMap(([item, amount]): Want[] => {
      if (taken.has(item) || !('pieces' in amount)) return [];
      const place = () => spanOf(thing.items ?? thing, item);
      return [{ step: at, item, choice: null, count: amount.pieces * (thing.count ?? 1), reason: findWords(thing), joint: null, place }];
    }),
  );
}

/**
 * Fluids that what is known to be found takes, beside those that a step fills in: in grams where they are weighed, else in
 * millilitres.
 * @param filled what the steps fill in
 */
export function fluidsOfFinds(context: JobContext, filled: ReadonlyMap<string, number>): ReadonlyMap<string, FluidOfFind> {
  const found = new Map<string, FluidOfFind>();
  for (const { thing } of foundIn(context))
    for (const [item, amount] of Object.entries(thing.items ?? {})) {
      if ('pieces' in amount || filled.has(item)) continue;
      const units = unitsIn(amount) * (thing.count ?? 1) + (found.get(item)?.units ?? 0);
      found.set(item, { units, weighed: amount.quantity.unit.dimension === 'mass' });
    }
  return found;
}

interface FluidOfFind {
  readonly units: number;
  readonly weighed: boolean;
}

/** How much is needed, by what is found. */
interface Needed {
  /** How many of each item whatever the outcomes are, where any are. */
  readonly certain: ReadonlyMap<string, number>;
  /** What some outcome needs besides. */
  readonly perhaps: readonly Want[];
  /** How many of each item that is, at the most. */
  readonly more: ReadonlyMap<string, number>;
}

function neededIn({ branches }: JobContext, wants: readonly Want[]): Needed {
  const needs = branches.map((outcomes) => {
    const need = new Map<string, number>();
    const done = new Set<string>();
    for (const { step, item, count, joint } of wants) {
      if (!isDone(step, outcomes) || (joint !== null && done.has(joint))) continue;
      if (joint !== null) done.add(joint);
      need.set(item, (need.get(item) ?? 0) + count);
    }
    return need;
  });
  const certain = new Map<string, number>();
  const more = new Map<string, number>();
  for (const item of new Set(wants.map((want) => want.item))) {
    const counts = needs.map((need) => need.get(item) ?? 0);
    const least = Math.min(...counts);
    if (least > 0) certain.set(item, least);
    const most = Math.max(...counts);
    if (most > least) more.set(item, most - least);
  }
  return { certain, more, perhaps: wants.filter(({ step, item }) => step.conditional && more.has(item)) };
}
