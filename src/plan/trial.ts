import { jointsNamed } from '../ledger/joints.js';
import type { VerbName } from '../ledger/verbs.js';
import type { Scope } from '../library/scope.js';
import { isItsOwnFastener, type PlanStep } from './plan.js';

/** Whether something goes in new each time: the part that a verb puts on or its seals; the fasteners that are tightened. */
export function isNewEachTime(scope: Scope, verb: VerbName, object: string): boolean {
  if (verb === 'tighten') return jointsNamed(scope, object).some(({ group }) => scope.fasteners.get(group)?.reuse === 'never');
  const part = scope.parts.get(object);
  return part?.reuse === 'never' || part?.seals !== undefined || isItsOwnFastener(scope, object);
}

/** Whether a step makes a trial: it puts on the old one of what goes in new each time. */
export const isTrial = ({ verb, step, objects, participant: { scope } }: PlanStep): boolean =>
  step.new === false && objects.some((object) => isNewEachTime(scope, verb, object));
