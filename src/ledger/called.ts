import { spoken } from '../library/scope.js';
import type { PlanStep } from '../plan/plan.js';

/** `block-plug` (block coolant plug) */
export function called(step: PlanStep, object: string): string {
  const [id = object] = object.split('@');
  const words = spoken(step.participant.scope, id);
  return words === id.replaceAll('-', ' ') ? `\`${id}\`` : `\`${id}\` (${words})`;
}
