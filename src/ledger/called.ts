import { spoken } from '../library/scope.js';
import type { PlanStep } from '../plan/plan.js';
import { jointsNamed } from './joints.js';

/** `block-plug` (block coolant plug); of a joint also where it is, where its group has several: `wheel-nuts` at `left-wheel` */
export function called(step: PlanStep, object: string): string {
  const { scope } = step.participant;
  const [id = object, place] = object.split('@');
  const words = spoken(scope, id);
  const name = words === id.replaceAll('-', ' ') ? `\`${id}\`` : `\`${id}\` (${words})`;
  return place && jointsNamed(scope, id).length > 1 ? `${name} at \`${place}\`` : name;
}
