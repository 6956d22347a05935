import type { PlanStep } from '../plan/plan.js';
import type { VerbName } from './verbs.js';

/** What turns the engine over, or has it run: it heats, and pumps up, what belongs to it. */
export const runsEngine: ReadonlySet<VerbName> = new Set<VerbName>(['start', 'crank', 'drive']);

/**
 * Since which step the engine runs after each of some steps, in their order; null where it is off. It is off when the vehicle
 * goes to the ground or cools down, and when it is back from the road (common practice, no source).
 */
export function runningSince(steps: readonly PlanStep[]): (PlanStep | null)[] {
  let running: PlanStep | null = null;
  let moment: PlanStep['moment'] = null;
  return steps.map((step) => {
    if (step.moment !== moment) {
      moment = step.moment;
      if (moment === 'ground' || moment === 'cooled') running = null;
    }
    if (step.verb === 'start' && (running === null || running.conditional)) running = step;
    if (step.verb === 'stop' || step.verb === 'drive') running = null;
    return running;
  });
}
