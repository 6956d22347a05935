import { type Quantity, inUnit, nominalOf } from '../../quantity/quantity.js';
import { D } from '../../quantity/units.js';
import type { Decimal } from 'decimal.js';

/** More rounds than this are not a plan but a sign that the drain volume is wrong. */
const mostRounds = 12;

/**
 * Share of new fluid after n partial changes: `1 − (1 − d/C)^n` (mass balance, perfect mixing before each drain).
 * @param capacity C, total capacity, in L
 * @param drained d, volume changed each time, in L; 0 < d ≤ C
 * @returns share between 0 and 1
 */
export const shareAfter = (capacity: Decimal, drained: Decimal, rounds: number): Decimal =>
  new D(1).minus(new D(1).minus(drained.div(capacity)).pow(rounds));

/** The fewest partial changes that reach a share (0 to 1), or null where twelve do not. */
export function roundsToReach(capacity: Decimal, drained: Decimal, share: Decimal): number | null {
  if (drained.lte(0) || capacity.lte(0)) return null;
  for (let n = 1; n <= mostRounds; n++) if (shareAfter(capacity, drained, n).gte(share)) return n;
  return null;
}

/**
 * Rounds that a fluid of a vehicle profile needs for its `new-share`; 1 where it names none.
 * @param way what comes out each time
 */
export function roundsFor(
  fluid: { readonly capacity: Quantity; readonly 'new-share'?: Quantity },
  way: { readonly gives: Quantity } | null | undefined,
): number {
  const share = fluid['new-share'];
  if (!share || !way) return 1;
  return roundsToReach(inUnit(fluid.capacity, 'L'), inUnit(way.gives, 'L'), nominalOf(share).div(100)) ?? mostRounds;
}

export interface Rounds {
  /** Strength after each round, as shares. */
  readonly strengths: readonly Decimal[];
  /** Whether the last one is inside the range. */
  readonly reached: boolean;
}

/**
 * Drain-and-fill rounds with one product until the strength is inside a range (mass balance, mixed before each drain):
 * c_n = c_p + (c_0 − c_p)·(1 − d/C)^n.
 * @param capacity C, L
 * @param drained d, L per round
 * @param initial c_0, share
 * @param poured c_p, share of what is poured each time
 * @param low @param high the range, shares, inclusive
 */
export function roundsIntoRange(
  capacity: Decimal,
  drained: Decimal,
  initial: Decimal,
  poured: Decimal,
  low: Decimal,
  high: Decimal,
): Rounds {
  const kept = new D(1).minus(drained.div(capacity));
  const strengths: Decimal[] = [];
  for (let n = 1; n <= mostRounds; n++) {
    const strength = poured.plus(initial.minus(poured).times(kept.pow(n)));
    strengths.push(strength);
    if (strength.gte(low) && strength.lte(high)) return { strengths, reached: true };
  }
  return { strengths, reached: false };
}
