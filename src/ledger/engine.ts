import type { PlanStep } from '../plan/plan.js';

/**
 * Whether the engine runs after each of some steps, in their order. It is off when the vehicle goes to the ground or cools
 * down, and when it is back from the road (common practice, no source).
 */
export function runningAfter(steps: readonly PlanStep[]): boolean[] {
  let running = false;
  let moment: PlanStep['moment'] = null;
  return steps.map((step) => {
    if (step.moment !== moment) {
      moment = step.moment;
      if (moment === 'ground' || moment === 'cooled') running = false;
    }
    if (step.verb === 'start') running = true;
    if (step.verb === 'stop' || step.verb === 'drive') running = false;
    return running;
  });
}
