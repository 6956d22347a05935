import crypto from 'node:crypto';
import type { CompiledJob } from '../schema/generated/compiled-job.js';

/** JSON with sorted keys and no spaces: the same content gives the same text (after RFC 8785; all our numbers are short). */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    return `{${Object.entries(value)
      .filter(([, one]) => one !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, one]) => `${JSON.stringify(key)}:${canonical(one)}`)
      .join(',')}}`;
  }
  return JSON.stringify(value);
}

/** SHA-256, in hex, of the canonical JSON of the job without its digest. */
export function digestOf(job: Omit<CompiledJob, 'digest'>): string {
  const { digest: _digest, ...rest } = job as CompiledJob;
  return crypto.createHash('sha256').update(canonical(rest)).digest('hex');
}
