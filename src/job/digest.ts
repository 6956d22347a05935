import crypto from 'node:crypto';
import type { CompiledJob } from '../schema/generated/compiled-job.js';

/** JSON with sorted keys and no spaces: the same content gives the same text (after RFC 8785; all our numbers are short). */
export function canonical(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  let text = '';
  if (Array.isArray(value)) {
    for (const one of value) text += `${text && ','}${canonical(one)}`;
    return `[${text}]`;
  }
  const table = value as Readonly<Record<string, unknown>>;
  for (const key of Object.keys(table).sort()) {
    const one = table[key];
    if (one !== undefined) text += `${text && ','}${JSON.stringify(key)}:${canonical(one)}`;
  }
  return `{${text}}`;
}

/** SHA-256, in hex, of the canonical JSON of the job without its digest. */
export function digestOf(job: Omit<CompiledJob, 'digest'>): string {
  const { digest: _digest, ...rest } = job as CompiledJob;
  return crypto.createHash('sha256').update(canonical(rest)).digest('hex');
}
