import type { JobDocument } from '../library/document.js';
import { nominalOf, type Quantity } from '../quantity/quantity.js';
import { convert, convertDifference, D, findUnit, shownUnit, type Unit } from '../quantity/units.js';
import { calculated } from '../resolve/measure/calculated.js';
import type { Measurement } from '../schema/generated/types.js';
import { isDamaged } from '../schema/origin.js';

/** The measurements of a plan, by their names. */
export type Measurements = ReadonlyMap<string, Measurement>;

/** The unit of the blank of a measurement; undefined where none is said, or none that is known. */
export const unitOfReading = ({ limit, unit }: Measurement): Unit | undefined =>
  limit?.unit ?? (unit === undefined ? undefined : findUnit(unit));

/** Whether nobody can tell which reading of one measurement goes with which of another: one goes with all, else each with its own. */
export const readingsApart = (one: Measurement, other: Measurement): boolean => (one.points ?? 1) > 1 && one.points !== (other.points ?? 1);

/** The names that a measurement is worked out from, those that are added first. */
export const termsOf = ({ calculated: by }: Measurement): readonly string[] => (by ? [...by.plus, ...(by.minus ?? [])] : []);

/**
 * Readings from before the job: as the order has them, or worked out from others that it has. None where it was not measured, or
 * where one of them could not be read.
 */
export function readingsOf(job: JobDocument, id: string, measurements: Measurements, within: readonly string[] = []): readonly Quantity[] {
  const value = job.measured?.[id];
  if (value !== undefined) return isDamaged(value) ? [] : Array.isArray(value) ? value : [value];
  const measurement = measurements.get(id);
  const by = measurement?.calculated;
  // What goes round in a circle is told where it is declared.
  if (!by || within.includes(id)) return [];
  const read = (names: readonly string[] = []) => names.map((name) => readingsOf(job, name, measurements, [...within, id]));
  const [plus, minus] = [read(by.plus), read(by.minus)];
  const all = [...plus, ...minus].flat();
  const unit = unitOfReading(measurement) ?? all[0]?.unit;
  if (!unit || [...all, ...(by.constant ? [by.constant] : [])].some((one) => one.unit.dimension !== unit.dimension)) return [];
  const values = (readings: readonly Quantity[]) => readings.map((one) => convert(nominalOf(one), one.unit, unit));
  const terms = [
    ...plus.map((one) => ({ values: values(one), minus: false })),
    ...minus.map((one) => ({ values: values(one), minus: true })),
  ];
  return (calculated(terms, constantIn(by, unit)) ?? []).map((nominal) => ({
    nominal,
    low: null,
    high: null,
    unit,
    text: `${nominal} ${shownUnit(unit)}`,
  }));
}

/** What is always added, in a unit. */
export const constantIn = ({ constant }: NonNullable<Measurement['calculated']>, unit: Unit) =>
  constant?.unit.dimension === unit.dimension ? convertDifference(nominalOf(constant), constant.unit, unit) : new D(0);
