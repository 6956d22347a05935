import { asList, type Scope } from '../library/scope.js';
import { type Facts, fastenerFor } from '../library/variants.js';
import type { PlanStep } from '../plan/plan.js';
import type { Fastener, Step } from '../schema/generated/types.js';
import { once } from '../once.js';
import { type LineName, lineName } from './ledger.js';

/** A fastener group at one place: wheel nuts at the front right wheel. `part` is empty where no part owns the group. */
export interface Joint {
  readonly key: string;
  readonly group: string;
  readonly part: string;
  /** The line that is open while it is loose. */
  readonly line: LineName;
}

export function jointOf(group: string, part: string): Joint {
  const key = part ? `${group}@${part}` : group;
  return { key, group, part, line: lineName('loosen', key) };
}

const holding = new WeakMap<object, Map<string, readonly Joint[]>>();
const named = new WeakMap<object, Map<string, readonly Joint[]>>();

/** The joints that hold a part. */
const tableOf = (made: WeakMap<object, Map<string, readonly Joint[]>>, scope: Scope) => once(made, scope.things, () => new Map());

export const jointsOfPart = (scope: Scope, part: string): readonly Joint[] =>
  once(tableOf(holding, scope), part, () =>
    asList(scope.parts.get(part)?.fasteners)
      .filter((group) => scope.fasteners.has(group))
      .map((group) => jointOf(group, part)),
  );

/** The joints that a name stands for: those of the part, or those of the group on every part that it holds. */
export const jointsNamed = (scope: Scope, name: string): readonly Joint[] => once(tableOf(named, scope), name, () => jointsOf(scope, name));

function jointsOf(scope: Scope, name: string): readonly Joint[] {
  if (!scope.fasteners.has(name)) return jointsOfPart(scope, name);
  const holders = [...scope.parts].filter(([, part]) => asList(part.fasteners).includes(name)).map(([id]) => id);
  return holders.length > 0 ? holders.map((part) => jointOf(name, part)) : [jointOf(name, '')];
}

export function fastenerOf(scope: Scope, joint: Joint, facts: Facts): Fastener | undefined {
  const group = scope.fasteners.get(joint.group);
  return group && fastenerFor(group, facts);
}

/** Whether a part clamps a gasket in a variant. */
export function clampsGasket(scope: Scope, part: string, facts: Facts): boolean {
  for (const joint of jointsOfPart(scope, part)) if (fastenerOf(scope, joint, facts)?.gasket) return true;
  return false;
}

/** A joint with its group in a variant. */
export interface GroupAtJoint {
  readonly joint: Joint;
  readonly group: Fastener | undefined;
}

/** The joints that a step works on. */
export function jointsOfStep({ objects, participant: { scope } }: PlanStep, facts: Facts): readonly GroupAtJoint[] {
  const found: GroupAtJoint[] = [];
  for (const object of objects)
    for (const joint of jointsNamed(scope, object)) found.push({ joint, group: fastenerOf(scope, joint, facts) });
  return found;
}

interface Split {
  readonly now: readonly number[];
  readonly later: readonly number[];
  readonly inTheAir: readonly number[];
}

const splits = new WeakMap<Fastener, Split>();

const splitOf = (fastener: Fastener): Split =>
  once(splits, fastener, () => {
    const stages = fastener.stages ?? [];
    const those = (test: (stage: (typeof stages)[number]) => boolean): number[] =>
      stages.flatMap((stage, index) => (test(stage) ? [index + 1] : []));
    return {
      now: those((stage) => !stage.after),
      later: those((stage) => stage.after !== undefined),
      inTheAir: those((stage) => !stage.after && !stage.wheels),
    };
  });

/** Whether a group is done by hand, or has clips: there is something to close, and no figure. */
export const hasMethodAlone = ({ stages, method }: Fastener): boolean => !stages && method !== undefined;

export const stagesNow = (fastener: Fastener): readonly number[] => splitOf(fastener).now;
export const stagesLater = (fastener: Fastener): readonly number[] => splitOf(fastener).later;

/** The stages that a step works on while nothing stands on its wheels: the ones it names, or those that need no ground. */
export function stagesInTheAir(fastener: Fastener, { stages }: Step): readonly number[] {
  return stages ? stages.filter((stage) => stage <= (fastener.stages ?? []).length) : splitOf(fastener).inTheAir;
}

/**
 * The stages that a step works on, of those still to do: the ones it names; with `wheels: on-ground` all; otherwise
 * those that need no ground under the wheels.
 */
export function stagesOfStep(fastener: Fastener, step: Step): readonly number[] {
  const inTheAir = stagesInTheAir(fastener, step);
  if (step.stages || step.wheels !== 'on-ground') return inTheAir;
  const { now } = splitOf(fastener);
  return inTheAir.length === now.length || inTheAir.length === 0 ? now : now.filter((stage) => !inTheAir.includes(stage));
}

/** Whether a later stage comes while the vehicle is in the shop: what comes after a distance does not. */
export const comesWithinJob = ({ stages }: Fastener, stage: number): boolean => stages?.[stage - 1]?.after !== 'distance';

/** The first distance after which a joint is tightened again, as it is written. */
export const distanceOf = ({ stages = [] }: Fastener): string => stages.find((stage) => stage.distance)?.distance?.text ?? 'a distance';

/** What a job that tightened a joint, and ended, has left to come: what comes after a distance, else all that comes later. */
export function leftToCome(fastener: Fastener): readonly number[] {
  const later = stagesLater(fastener);
  const afterwards = later.filter((stage) => !comesWithinJob(fastener, stage));
  return afterwards.length > 0 ? afterwards : later;
}

/**
 * The stages that a re-torque does: the ones that its step names, or the next of those still to come with all that come after
 * the same run, heat cycle or distance.
 * @param toCome by number
 * @param tightenedHere whether the joint was tightened in this job: what comes after a distance then comes after it
 * @returns none where nothing comes within the job
 */
export function roundOf(fastener: Fastener, { stages }: Step, toCome: readonly number[], tightenedHere: boolean): readonly number[] {
  const all = fastener.stages ?? [];
  if (stages) return stages.filter((stage) => stage <= all.length);
  const possible = tightenedHere ? stagesLater(fastener).filter((stage) => comesWithinJob(fastener, stage)) : stagesLater(fastener);
  // After all of them, the last is done once more.
  const next = possible.find((stage) => toCome.includes(stage)) ?? possible.at(-1);
  const first = next === undefined ? undefined : all[next - 1];
  return possible.filter((stage) => {
    const other = all[stage - 1];
    return other?.after === first?.after && other?.distance?.text === first?.distance?.text;
  });
}
