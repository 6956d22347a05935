import crypto from 'node:crypto';
import type { CompiledJob } from '../schema/generated/compiled-job.js';

/**
 * JSON with sorted keys and no spaces: the same content gives the same text (after RFC 8785; all our numbers are short, and no key
 * of ours is a number, which an object would put first).
 */
const canonical = (job: object): string => JSON.stringify(sorted(job));

function sorted(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(sorted);
  const table = value as Readonly<Record<string, unknown>>;
  const copy: Record<string, unknown> = {};
  for (const key of Object.keys(table).sort()) copy[key] = sorted(table[key]);
  return copy;
}

/** SHA-256, in hex, of the canonical JSON of the job without its digest. */
export function digestOf(job: Omit<CompiledJob, 'digest'>): string {
  const { digest: _digest, ...rest } = job as CompiledJob;
  return crypto.createHash('sha256').update(canonical(rest)).digest('hex');
}
