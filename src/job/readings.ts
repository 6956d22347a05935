import { circlesIn } from '../circles.js';
import type { JobDocument } from '../library/document.js';
import { once } from '../once.js';
import { nominalOf, type Quantity } from '../quantity/quantity.js';
import { convert, convertDifference, D, findUnit, shownUnit, type Unit } from '../quantity/units.js';
import { calculated } from '../resolve/measure/calculated.js';
import type { Measurement } from '../schema/generated/types.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import { plainNumber } from './format.js';

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
export const readingsOf = (job: JobDocument, id: string, measurements: Measurements): readonly Quantity[] =>
  takenOf(job, id) ?? workedOutIn(job, measurements).get(id) ?? none;

const none: readonly Quantity[] = [];

/** As the order has them; undefined where it does not. */
function takenOf(job: JobDocument, id: string): readonly Quantity[] | undefined {
  const value = job.measured?.[id];
  if (value === undefined) return undefined;
  return isDamaged(value) ? none : Array.isArray(value) ? value : [value];
}

const known = new WeakMap<JobDocument, WeakMap<Measurements, ReadonlyMap<string, readonly Quantity[]>>>();

/** What is worked out from the readings of an order, each after all that it is worked out from. */
const workedOutIn = (job: JobDocument, measurements: Measurements): ReadonlyMap<string, readonly Quantity[]> =>
  once(
    once(known, job, () => new WeakMap()),
    measurements,
    () => {
      const worked = new Map<string, readonly Quantity[]>();
      const read = (names: readonly string[]) => names.map((name) => takenOf(job, name) ?? worked.get(name) ?? none);
      for (const group of groupsOf(measurements)) {
        const [id = ''] = group;
        const measurement = measurements.get(id);
        const by = measurement?.calculated;
        // What goes round in a circle is told where it is declared.
        if (by && !isCircle(group, measurements) && !isFaulty(id, measurements))
          worked.set(id, workedOut(measurement, by, read(by.plus), read(by.minus ?? [])));
      }
      return worked;
    },
  );

/** Where a reading from before the job stands in its order; of one that is worked out, where the readings begin. */
export const placeOfReading = (job: JobDocument, id: string): Span =>
  job.measured && id in job.measured ? spanOf(job.measured, id) : spanOf(job, 'measured', 'key');

/** Whether a measurement cannot be worked out as something of it could not be read, or is called otherwise: that is told there. */
export const isFaulty = (id: string, measurements: Measurements): boolean => {
  const measurement = measurements.get(id);
  return measurement !== undefined && (isDamaged(measurement) || termsOf(measurement).some((name) => !measurements.has(name)));
};

/** Measurements that are worked out from each other, together, and every other alone; what one is worked out from stands before it. */
export const groupsOf = (measurements: Measurements): readonly (readonly string[])[] =>
  circlesIn(measurements.keys(), (name) => termsOf(measurements.get(name) ?? { name }));

/** Whether those of a group are worked out from themselves. */
export const isCircle = (group: readonly string[], measurements: Measurements): boolean =>
  group.length > 1 || group.some((id) => termsOf(measurements.get(id) ?? { name: id }).includes(id));

/** What readings give together; none where they are of several kinds, or one of them is missing. */
function workedOut(
  measurement: Measurement,
  by: NonNullable<Measurement['calculated']>,
  plus: readonly (readonly Quantity[])[],
  minus: readonly (readonly Quantity[])[],
): readonly Quantity[] {
  const all = [...plus, ...minus].flat();
  const unit = unitOfReading(measurement) ?? all[0]?.unit;
  if (!unit || [...all, ...(by.constant ? [by.constant] : [])].some((one) => one.unit.dimension !== unit.dimension)) return [];
  const termOf = (readings: readonly Quantity[], isMinus: boolean) => ({
    values: readings.map((one) => convert(nominalOf(one), one.unit, unit)),
    minus: isMinus,
  });
  const terms = [...plus.map((one) => termOf(one, false)), ...minus.map((one) => termOf(one, true))];
  return (calculated(terms, constantIn(by, unit)) ?? []).map((nominal) => ({
    nominal,
    low: null,
    high: null,
    unit,
    text: `${plainNumber(nominal, 4)} ${shownUnit(unit)}`,
  }));
}

/** What is always added, in a unit. */
export const constantIn = ({ constant }: NonNullable<Measurement['calculated']>, unit: Unit) =>
  constant?.unit.dimension === unit.dimension ? convertDifference(nominalOf(constant), constant.unit, unit) : new D(0);
