import type { JobDocument } from '../library/document.js';
import type { Scope } from '../library/scope.js';
import type { Facts } from '../library/variants.js';
import type { Quantity } from '../quantity/quantity.js';
import { type Judged, judge, rowFor } from '../resolve/measure/judge.js';
import type { Choice, Measurement } from '../schema/generated/types.js';
import { readingsOf } from './context.js';

/** Readings against the limit of a measurement; null where there is nothing to judge them by, or one is of another kind. */
export function judged(readings: readonly Quantity[], { limit, 'max-spread': spread, takes }: Measurement): Judged | null {
  const by = limit ?? spread;
  if (!by || readings.length === 0 || readings.some((one) => one.unit.dimension !== by.unit.dimension)) return null;
  return judge(readings, takes, limit ?? null, spread?.unit.dimension === by.unit.dimension ? spread : null);
}

/** How many items a measurement chooses: as many as it has readings where each of them counts, as of shims; else one. */
const timesChosen = (measurement: Measurement | undefined): number => (measurement?.takes === 'each' ? (measurement.points ?? 1) : 1);

/**
 * The value that readings give for a table of choices, in its unit, and the row that holds it; one after the other where each
 * reading chooses, and none where they say nothing.
 */
export function chosen(readings: readonly Quantity[], choice: Choice, measurement: Measurement | undefined) {
  const over = choice.table[0]?.over;
  if (!over || readings.length === 0 || readings.some((one) => one.unit.dimension !== over.unit.dimension)) return [];
  const all = timesChosen(measurement) > 1 ? readings.map((one) => [one]) : [readings];
  return all.map((those) => {
    const { value } = judge(those, measurement?.takes, over, null);
    return { value, unit: over.unit, row: rowFor(choice.table, value, over.unit) };
  });
}

/** The items that are expected before it is measured, as many as are chosen: by what was read before the job, else by what it expects. */
export function expectedOf(job: JobDocument, id: string, choice: Choice, measurement: Measurement | undefined): (string | null)[] {
  const read = chosen(readingsOf(job, choice.from), choice, measurement);
  return Array.from({ length: timesChosen(measurement) }, (_, n) => read[n]?.row?.gives ?? job.expect?.[id] ?? null);
}

/**
 * The outcomes that are known before the job begins: of what was measured, and what it chooses or the job expects. The sheet
 * asks for the reading all the same, with a step for each way; what is ordered and quoted is what these outcomes need.
 */
export function settledBy(job: JobDocument, { measurements, choices }: Scope): Facts {
  const facts: Record<string, string> = {};
  for (const id of Object.keys(job.measured ?? {})) {
    const measurement = measurements.get(id);
    const result = measurement && judged(readingsOf(job, id), measurement);
    if (result) facts[id] = result.inside && result.spreadInside ? 'inside' : 'outside';
  }
  for (const [id, choice] of choices) {
    const [gives, ...others] = new Set(expectedOf(job, id, choice, measurements.get(choice.from)));
    if (gives && others.length === 0) facts[id] = gives;
  }
  return facts;
}
