import type { CompiledJob, Measurement, Step } from '../schema/generated/compiled-job.js';

const coded = (code: string, time: number): string => (time > 1 ? `${code}.${time}` : code);

/** What stands beside the blanks of a step and keys them in the record: `M-07`, and `M-07.2` where that is measured again. */
export const codeAt = (step: Step, code: string): string => coded(code, step.times[code] ?? 1);

/** All that stand for a code in a job: as many as it is done. */
export const codesOf = (job: CompiledJob, code: string): string[] =>
  Array.from({ length: Math.max(1, ...job.steps.map((step) => step.times[code] ?? 1)) }, (_, n) => coded(code, n + 1));

/** Whether each of several readings counts, and none of them stands for all. */
export const eachCounts = ({ takes }: Pick<Measurement, 'takes'>): boolean => takes === null || takes === 'each';
