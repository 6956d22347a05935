import { type VerbName, verbOf } from '../ledger/verbs.js';
import type { PlanStep } from '../plan/plan.js';

/** What takes something apart. */
export const takingApart: readonly VerbName[] = ['remove', 'disconnect', 'open', 'renew'];

/** What lets something out: taking apart and draining. */
export const lettingOut: readonly VerbName[] = [...takingApart, 'drain'];

/** Whether one of the steps does this to that object. */
export const did = (steps: readonly PlanStep[], verb: PlanStep['verb'], object?: string): boolean =>
  steps.some((step) => step.verb === verb && (object === undefined || step.objects.includes(object)));

/** Whether a step takes a battery off. */
export const disconnectsBattery = ({ verb, objects, participant }: PlanStep): boolean =>
  verb === 'disconnect' && objects.some((object) => participant.scope.parts.get(object)?.role === 'battery');

/** Whether something is open, off or supported after some steps. What is only loosened is none of these. */
export function isOpenAfter(steps: readonly PlanStep[], object: string): boolean {
  let open = false;
  for (const step of steps) {
    if (!step.objects.includes(object)) continue;
    const { opens, closes } = verbOf(step.verb);
    if (opens && opens !== 'loosen') open = true;
    else if (closes && closes !== 'loosen') open = false;
  }
  return open;
}
