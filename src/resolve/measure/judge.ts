import type { Decimal } from 'decimal.js';
import type { Quantity } from '../../quantity/quantity.js';
import { nominalOf } from '../../quantity/quantity.js';
import { convert, convertDifference, D } from '../../quantity/units.js';

/** Which of several readings counts: each of them, their mean, the largest, the smallest, or largest less smallest. */
export type Takes = 'each' | 'mean' | 'max' | 'min' | 'variation' | 'difference';

export interface Judged {
  /** The value that counts, in the unit of the limit (or of the readings); where each counts, the first that lies outside, or the first. */
  readonly value: Decimal;
  /** Where each of several readings counts, those that lie outside, in the same unit; else null. */
  readonly each: readonly Decimal[] | null;
  /** Whether it lies inside the limit; inclusive at both ends. */
  readonly inside: boolean;
  /** Largest less smallest reading, in the same unit. */
  readonly spread: Decimal;
  /** Whether the readings differ by no more than they may. */
  readonly spreadInside: boolean;
}

/** What readings are judged by, in their unit; null where that is not limited. */
export interface Bounds {
  readonly low: Decimal | null;
  readonly high: Decimal | null;
  /** Most that the readings may differ. */
  readonly mostSpread: Decimal | null;
}

/**
 * Judges readings against a limit and against each other.
 * @param readings at least one, all of one dimension
 * @param limit null where the value is only recorded
 * @param maxSpread most that the readings may differ, or null
 */
export function judge(readings: readonly Quantity[], takes: Takes | undefined, limit: Quantity | null, maxSpread: Quantity | null): Judged {
  const unit = limit?.unit ?? maxSpread?.unit ?? readings[0]?.unit;
  const values = readings.map((one) =>
    unit && unit.dimension === one.unit.dimension ? convert(nominalOf(one), one.unit, unit) : nominalOf(one),
  );
  const mostSpread = maxSpread && unit ? convertDifference(maxSpread.high ?? nominalOf(maxSpread), maxSpread.unit, unit) : null;
  return judgeValues(values, takes, { low: limit?.low ?? null, high: limit?.high ?? null, mostSpread });
}

/**
 * The same of plain numbers.
 * @param values at least one, all in the unit of the bounds
 */
export function judgeValues(values: readonly Decimal[], takes: Takes | undefined, { low, high, mostSpread }: Bounds): Judged {
  const largest = D.max(...values);
  const smallest = D.min(...values);
  const spread = largest.minus(smallest);
  const within = (value: Decimal) => !(low && value.lt(low)) && !(high && value.gt(high));
  const value = taken(values, takes ?? 'each', largest, smallest, within);
  const each = values.length > 1 && (takes ?? 'each') === 'each' ? values.filter((one) => !within(one)) : null;
  return { value, each, inside: within(value), spread, spreadInside: mostSpread === null || spread.lte(mostSpread) };
}

function taken(
  values: readonly Decimal[],
  takes: Takes,
  largest: Decimal,
  smallest: Decimal,
  within: (value: Decimal) => boolean,
): Decimal {
  if (takes === 'mean') return values.reduce((sum, one) => sum.plus(one), new D(0)).div(values.length);
  if (takes === 'max') return largest;
  if (takes === 'min') return smallest;
  if (takes === 'variation' || takes === 'difference') return largest.minus(smallest);
  return values.find((one) => !within(one)) ?? values[0] ?? new D(0);
}

export interface Row {
  /** Exclusive lower end. */
  readonly over: Quantity;
  /** Inclusive upper end. */
  readonly to: Quantity;
}

/** What a row of a table of choices gives where what is in stays. */
export const staysIn = 'none';

/** The row of a table of choices that holds a value (`over < value ≤ to`); null outside the table. A row of another kind holds none. */
export const rowFor = <T extends Row>(table: readonly T[], value: Decimal, unit: Quantity['unit']): T | null =>
  table.find(
    (row) =>
      row.over.unit.dimension === unit.dimension &&
      row.to.unit.dimension === unit.dimension &&
      value.gt(convert(nominalOf(row.over), row.over.unit, unit)) &&
      value.lte(convert(nominalOf(row.to), row.to.unit, unit)),
  ) ?? null;
