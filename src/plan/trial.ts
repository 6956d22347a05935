import { jointsNamed } from '../ledger/joints.js';
import { isNewPart, type Plan, type PlanStep, putsOnOld } from './plan.js';

type Renewing = Pick<Plan, 'renewed'>;

/** Whether what a step does to an object takes something new: the part that it puts on, its seals, the fasteners that it tightens. */
export function takesNew(plan: Renewing, step: PlanStep, object: string): boolean {
  const { scope } = step.participant;
  if (step.verb === 'tighten') return jointsNamed(scope, object).some(({ group }) => scope.fasteners.get(group)?.reuse === 'never');
  return scope.parts.get(object)?.seals !== undefined || isNewPart(plan, step, object);
}

/** Whether a step makes a trial: it puts on the old one of what goes in new. */
export const isTrial = (plan: Renewing, step: PlanStep): boolean =>
  putsOnOld(step) && step.objects.some((object) => takesNew(plan, step, object));
