import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';

/** A refill that brings a system to its target. Volumes in L, strengths as shares from 0 to 1. */
export interface Refill {
  readonly concentrate: Decimal;
  readonly water: Decimal;
  /** Strength of what is poured. */
  readonly strength: Decimal;
  /** Strength of the system when it is full again. */
  readonly result: Decimal;
  /** False where even pure product (or pure water) does not reach the target in one round; then `result` is the best there is. */
  readonly reached: boolean;
}

/**
 * The refill after a partial drain, by mass balance: `c_f = (C·c_t − (C − d)·c_0) / d`. Volumes add up (ideal mixing).
 * @param capacity C, total capacity, L; > 0
 * @param drained d, what came out and goes back in, L; 0 < d ≤ C
 * @param initial c_0, strength before, 0 … 1
 * @param target c_t, strength wanted, 0 … 1
 * @param product strength of the product that is poured with water, 0 < p ≤ 1
 */
export function refill(capacity: Decimal, drained: Decimal, initial: Decimal, target: Decimal, product: Decimal = new D(1)): Refill {
  const residue = capacity.minus(drained);
  const wanted = capacity.times(target).minus(residue.times(initial));
  const most = drained.times(product);
  const pure = D.min(D.max(wanted, 0), most);
  const concentrate = pure.div(product);
  return {
    concentrate,
    water: drained.minus(concentrate),
    strength: pure.div(drained),
    result: residue.times(initial).plus(pure).div(capacity),
    reached: wanted.gte(0) && wanted.lte(most),
  };
}

/** Strength of the system when a ready mixture of strength `poured` replaces what was drained. */
export const resultOf = (capacity: Decimal, drained: Decimal, initial: Decimal, poured: Decimal): Decimal =>
  capacity.minus(drained).times(initial).plus(drained.times(poured)).div(capacity);

export interface RefillTable {
  readonly strengths: readonly Decimal[];
  readonly rows: readonly { readonly drained: Decimal; readonly refills: readonly Refill[] }[];
}

/** The small table for the sheet: refills for drained volumes around the expected one and for other strengths. */
export function refillTable(capacity: Decimal, drained: readonly Decimal[], strengths: readonly Decimal[], target: Decimal): RefillTable {
  return {
    strengths,
    rows: drained.map((d) => ({ drained: d, refills: strengths.map((initial) => refill(capacity, d, initial, target)) })),
  };
}
