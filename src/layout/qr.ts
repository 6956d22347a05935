import { encode } from 'uqr';
import { once } from '../once.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import type { Mark } from './page.js';

/** What the code on a page says: job, page of pages, the first 16 digits of the digest. */
export const codeText = (job: CompiledJob, number: number, of: number): string => `BW ${job.id} ${number}/${of} ${job.digest.slice(0, 16)}`;

const options = { ecc: 'L', border: 0 } as const;

const masks = new WeakMap<CompiledJob, number>();

/**
 * The mask for the codes of a job: of eight, that with the fewest shapes that confuse a reader (ISO/IEC 18004, 7.8). To try
 * them all is most of the work of a code, and the pages of a job's papers differ in a digit or two: one choice does for all.
 */
export const codeMask = (job: CompiledJob): number => once(masks, job, () => encode(codeText(job, 1, 1), options).maskPattern);

/** A QR code (ISO/IEC 18004, error correction L); the quiet zone is the caller's. */
export const qrCode = (text: string, mask: number, x: number, y: number, size: number): Mark => ({
  kind: 'code',
  x,
  y,
  size,
  dark: encode(text, { ...options, maskPattern: mask }).data,
});
