import type { Decimal } from 'decimal.js';

/** More rungs than this are a slip, not a ladder. */
const most = 60;

/**
 * The torques of a preload ladder: from the first by equal steps to the last, which is always among them. Each is tried
 * in turn until the measured drag is reached; nothing is ever backed off.
 * @param from first torque @param step how much more each time, > 0 @param to last torque, ≥ from; all in one unit
 */
export function ladderSteps(from: Decimal, step: Decimal, to: Decimal): Decimal[] {
  if (step.lte(0) || to.lt(from)) return [from];
  const rungs: Decimal[] = [];
  for (let torque = from; torque.lt(to) && rungs.length < most; torque = torque.plus(step)) rungs.push(torque);
  return [...rungs, to];
}
