import type { JobDocument } from '../library/document.js';
import type { Scope } from '../library/scope.js';
import type { Facts } from '../library/variants.js';
import type { Decimal } from 'decimal.js';
import type { Quantity } from '../quantity/quantity.js';
import type { Unit } from '../quantity/units.js';
import { type Judged, judge, rowFor, staysIn } from '../resolve/measure/judge.js';
import type { Choice, Measurement } from '../schema/generated/types.js';
import { type Measurements, readingsOf } from './readings.js';

/** Readings against the limit of a measurement; null where there is nothing to judge them by, or one is of another kind. */
export function judged(readings: readonly Quantity[], { limit, 'max-spread': spread, takes }: Measurement): Judged | null {
  const by = limit ?? spread;
  if (!by || readings.length === 0 || readings.some((one) => one.unit.dimension !== by.unit.dimension)) return null;
  return judge(readings, takes, limit ?? null, spread?.unit.dimension === by.unit.dimension ? spread : null);
}

/** How many items a measurement chooses: as many as it has readings where each of them counts, as of shims; else one. */
const timesChosen = (measurement: Measurement | undefined): number => (measurement?.takes === 'each' ? (measurement.points ?? 1) : 1);

/** What a reading gives, in the unit of the table. */
interface Chosen {
  readonly value: Decimal;
  readonly unit: Unit;
  /** The item; null outside the table. */
  readonly gives: string | null;
}

/**
 * What readings from before the job give by a table of choices; one after the other where each reading chooses, and none where
 * they say nothing.
 */
export function chosen(job: JobDocument, choice: Choice, measurements: Measurements): Chosen[] {
  const measurement = measurements.get(choice.from);
  const readings = readingsOf(job, choice.from, measurements);
  const over = choice.table[0]?.over;
  if (!over || readings.length === 0 || readings.some((one) => one.unit.dimension !== over.unit.dimension)) return [];
  const all = timesChosen(measurement) > 1 ? readings.map((one) => [one]) : [readings];
  const stays = staying(job, choice, measurements);
  return all.map((those, n) => {
    const { value } = judge(those, measurement?.takes, over, null);
    const gives = stays(n, all.length) ? staysIn : (rowFor(choice.table, value, over.unit)?.gives ?? null);
    return { value, unit: over.unit, gives };
  });
}

/** Whether what is in stays at the n-th of so many readings, as what was measured of it lies inside its limit. */
function staying(job: JobDocument, { stays }: Choice, measurements: Measurements): (n: number, of: number) => boolean {
  const measurement = stays === undefined ? undefined : measurements.get(stays);
  if (stays === undefined || !measurement) return () => false;
  const readings = readingsOf(job, stays, measurements);
  const isInside = (those: readonly Quantity[]): boolean => judged(those, measurement)?.inside === true;
  return (n, of) => isInside(of > 1 && readings.length === of ? readings.slice(n, n + 1) : readings);
}

/** The items that are expected before it is measured, as many as are chosen: by what was read before the job, else by what it expects. */
export function expectedOf(job: JobDocument, id: string, choice: Choice, measurements: Measurements): (string | null)[] {
  const read = chosen(job, choice, measurements);
  return Array.from({ length: timesChosen(measurements.get(choice.from)) }, (_, n) => read[n]?.gives ?? job.expect?.[id] ?? null);
}

/**
 * The outcomes that are known before the job begins: of what was measured, and what it chooses or the job expects. The sheet
 * asks for the reading all the same, with a step for each way; what is ordered and quoted is what these outcomes need.
 */
export function settledBy(job: JobDocument, { measurements, choices }: Scope): Facts {
  const facts: Record<string, string> = {};
  for (const [id, measurement] of measurements) {
    const result = judged(readingsOf(job, id, measurements), measurement);
    if (result) facts[id] = result.inside && result.spreadInside ? 'inside' : 'outside';
  }
  for (const [id, choice] of choices) {
    const [gives, ...others] = new Set(expectedOf(job, id, choice, measurements));
    if (gives && others.length === 0) facts[id] = gives;
  }
  return facts;
}
