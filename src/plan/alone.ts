import { numberIn, parseQuantity } from '../quantity/quantity.js';
import type { PlanStep } from './plan.js';

/** Minutes that pass at a step without work on it: waiting, and what runs by itself; of a wait that says so twice the longer. */
export function minutesAlone({ verb, objects, step, participant }: PlanStep): number {
  const alone = step.unattended ? numberIn(step.unattended, 'min') : 0;
  const [what] = verb === 'wait' ? objects : [];
  if (what === undefined) return alone;
  const known = participant.scope.vehicle?.waits?.[what];
  const written = parseQuantity(what, 'time');
  return Math.max(alone, known ? numberIn(known, 'min') : written.ok ? numberIn(written.quantity, 'min') : 0);
}
