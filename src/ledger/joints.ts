import { asList, type Scope } from '../library/scope.js';
import { type Facts, fastenerFor } from '../library/variants.js';
import type { PlanStep } from '../plan/plan.js';
import type { Fastener, Step } from '../schema/generated/types.js';

/** A fastener group at one place: wheel nuts at the front right wheel. `part` is empty where no part owns the group. */
export interface Joint {
  readonly key: string;
  readonly group: string;
  readonly part: string;
}

export const jointOf = (group: string, part: string): Joint => ({ key: part ? `${group}@${part}` : group, group, part });

/** The joints that hold a part. */
export function jointsOfPart(scope: Scope, part: string): Joint[] {
  return asList(scope.parts.get(part)?.fasteners)
    .filter((group) => scope.fasteners.has(group))
    .map((group) => jointOf(group, part));
}

const named = new WeakMap<Scope, Map<string, readonly Joint[]>>();

/** The joints that a name stands for: those of the part, or those of the group on every part that it holds. */
export function jointsNamed(scope: Scope, name: string): readonly Joint[] {
  let known = named.get(scope);
  if (!known) {
    known = new Map();
    named.set(scope, known);
  }
  let joints = known.get(name);
  if (!joints) {
    joints = jointsOf(scope, name);
    known.set(name, joints);
  }
  return joints;
}

function jointsOf(scope: Scope, name: string): Joint[] {
  if (!scope.fasteners.has(name)) return jointsOfPart(scope, name);
  const holders = [...scope.parts].filter(([, part]) => asList(part.fasteners).includes(name)).map(([id]) => id);
  return holders.length > 0 ? holders.map((part) => jointOf(name, part)) : [jointOf(name, '')];
}

export function fastenerOf(scope: Scope, joint: Joint, facts: Facts): Fastener | undefined {
  const group = scope.fasteners.get(joint.group);
  return group && fastenerFor(group, facts);
}

/** The joints that a step works on, each with its group in this variant. */
export const jointsOfStep = (planned: PlanStep, facts: Facts): { readonly joint: Joint; readonly group: Fastener | undefined }[] =>
  planned.objects
    .flatMap((object) => jointsNamed(planned.participant.scope, object))
    .map((joint) => ({ joint, group: fastenerOf(planned.participant.scope, joint, facts) }));

/** Stages that are done when the joint is tightened; those with `after:` come later, on their own. */
export const stagesNow = (fastener: Fastener): number[] =>
  (fastener.stages ?? []).flatMap((stage, index) => (stage.after ? [] : [index + 1]));
export const stagesLater = (fastener: Fastener): number[] =>
  (fastener.stages ?? []).flatMap((stage, index) => (stage.after ? [index + 1] : []));

/**
 * The stages that a step works on, of those still to do: the ones it names; with `wheels: on-ground` all; otherwise
 * those that need no ground under the wheels.
 */
export function stagesOfStep(fastener: Fastener, step: Step): number[] {
  if (step.stages) return step.stages.filter((stage) => stage <= (fastener.stages ?? []).length);
  const now = stagesNow(fastener);
  const inTheAir = now.filter((stage) => !fastener.stages?.[stage - 1]?.wheels);
  if (step.wheels !== 'on-ground') return inTheAir;
  return inTheAir.length === now.length || inTheAir.length === 0 ? now : now.filter((stage) => !inTheAir.includes(stage));
}
