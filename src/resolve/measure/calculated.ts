import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';

/** What a reading is worked out from: the readings of another measurement, all in one unit, and whether they are taken off. */
export interface Term {
  readonly values: readonly Decimal[];
  readonly minus: boolean;
}

/**
 * Readings that are worked out from others, as the thickness of a shim: new = in + clearance - clearance that is wanted (common
 * practice, no source). A term with one reading goes with all of the others; of those with several, each goes with its own.
 * @param constant is added to each, in the unit of the terms
 * @returns as many as the longest term has, in that unit; null where a term has none, or not as many
 */
export function calculated(terms: readonly Term[], constant: Decimal): readonly Decimal[] | null {
  const most = Math.max(...terms.map(({ values }) => values.length));
  if (terms.some(({ values }) => values.length === 0 || (values.length > 1 && values.length < most))) return null;
  return Array.from({ length: most }, (_, n) =>
    terms.reduce((sum, { values, minus }) => {
      const value = values[n] ?? values[0] ?? new D(0);
      return minus ? sum.minus(value) : sum.plus(value);
    }, constant),
  );
}
