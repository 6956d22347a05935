import type { JobRecord } from '../layout/recorded.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { wordsOf } from '../words/words.js';
import { CannotRun } from '../world/world.js';
import { inFileNamed } from './asked-file.js';

/** The record in a file, if it is one of this very version of the job. */
export function recordFor(job: CompiledJob, name: string, jobs: number): JobRecord {
  if (jobs > 1) throw new CannotRun('A record belongs to one job. Name the job: `baywright build JOB --record FILE`.');
  const toMake = `Save one with “${wordsOf('en').screen.save}” in job.html (\`baywright build ${job.id} --format html\`).`;
  const record = inFileNamed('record', name, readRecord, toMake);
  if (record.job !== job.id) throw new CannotRun(`${name} is a record of job ${record.job}, and not of ${job.id}.`);
  if (record.digest !== job.digest)
    throw new CannotRun(
      `${name} was made from another version of job ${job.id} (${record.digest.slice(0, 8)}; now it is ${job.digest.slice(0, 8)}). Print it from the state of the library that the sheet was made from.`,
    );
  return record;
}

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value);

function readRecord(value: unknown): (JobRecord & { readonly job: string; readonly digest: string }) | null {
  if (!isObject(value) || value.format !== 'baywright-record/1') return null;
  const { job, digest, ticks, values } = value;
  if (typeof job !== 'string' || typeof digest !== 'string' || !isObject(ticks) || !isObject(values)) return null;
  if (!Object.values(values).every((one) => typeof one === 'string')) return null;
  return { job, digest, ticks, values: values as Record<string, string> };
}
