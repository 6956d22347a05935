import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';

/** The ledger of a charge by mass, g. */
export interface Weighed {
  /** Charge less what was recovered: it has leaked. Below nought: it was overfilled. */
  readonly lost: Decimal;
  /** Lost, as a share of the charge. */
  readonly share: Decimal;
  /** What the bottle gains by recovering and gives by charging. */
  readonly bottle: Decimal;
}

/**
 * Balance of a circuit that is emptied and charged anew (conservation of mass).
 * @param charge g, > 0 @param recovered g, ≥ 0
 */
export function weigh(charge: Decimal, recovered: Decimal): Weighed {
  const lost = charge.minus(recovered);
  return { lost, share: charge.isZero() ? new D(0) : lost.div(charge), bottle: recovered.minus(charge) };
}

/**
 * Oil to put into a circuit, mL: what came out with the charge, and what each renewed part takes.
 * @param recovered mL @param parts mL for each renewed part
 */
export function oilToAdd(recovered: Decimal, parts: readonly Decimal[]): { readonly forParts: Decimal; readonly total: Decimal } {
  const forParts = parts.reduce((sum, one) => sum.plus(one), new D(0));
  return { forParts, total: recovered.plus(forParts) };
}

/** kg of refrigerant: from a small cabin to a bus (common practice, no source). */
const [least, most] = [0.05, 30];

/** Whether an air conditioning of a vehicle can take so much. @param mass in kg */
export const isLikelyCharge = (mass: number): boolean => mass >= least && mass <= most;
