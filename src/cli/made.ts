import { isMadeAnew } from '../emit/names.js';
import type { OutputOptions } from '../emit/outputs.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { realWorld } from '../world/real.js';
import { digest, keepOf, keptOf, type Sealed } from './kept.js';
import type { Outputs } from './paper.js';
import type { Ordered } from './printing.js';

/** What is made of a job. */
type Order = Pick<Ordered, 'job' | 'options'>;

/**
 * What builds made of a job, kept in the user's cache folder by the folder that it was put into. Where the same would be made
 * again, and that folder holds it to the byte, it is not made: of a shop's jobs only those are printed that have changed.
 */
interface Made extends Sealed {
  /** The digest of the compiled job. */
  readonly of: string;
  /** What was made of it, by the digest of what was asked for: of each file its size in bytes and its digest, by name. */
  readonly builds: Readonly<Record<string, Readonly<Record<string, readonly [number, string]>>>>;
}

/** So many ways to ask for paper of one job are kept, those that were asked last. */
const mostBuilds = 8;

const digestOf = (options: OutputOptions): string => digest(JSON.stringify(options));

/** What was made of this version of a job. */
function buildsOf(folder: string, job: CompiledJob): Made['builds'] {
  const made = keptOf<Made>(folder, '.paper');
  return made?.of === job.digest ? made.builds : {};
}

/** The names of all that an order makes, where it lies in its folder already; else null. */
export function madeBefore(folder: string, { job, options }: Order): readonly string[] | null {
  const files = buildsOf(folder, job)[digestOf(options)];
  if (!files) return null;
  const put = Object.entries(files).map(
    ([name, [size, was]]) => [name, { size, isContent: (content: Uint8Array) => digest(content) === was }] as const,
  );
  // Papers that were not asked for may lie beside: they are of this version, as its `job.json` is.
  const isOurs = options.papers ? () => false : isMadeAnew;
  return realWorld.stillHolds(folder, new Map(put), isOurs) ? Object.keys(files) : null;
}

/** Keeps what was put into a folder. */
export function keepMade(folder: string, { job, options }: Order, outputs: Outputs): void {
  const asked = digestOf(options);
  const others = Object.entries(buildsOf(folder, job)).filter(([one]) => one !== asked);
  const files = Object.fromEntries(
    Array.from(outputs, ([name, content]) => [name, [Buffer.byteLength(content), digest(content)] as const]),
  );
  keepOf<Made>(folder, '.paper', Date.now(), {
    of: job.digest,
    builds: Object.fromEntries([...others, [asked, files] as const].slice(-mostBuilds)),
  });
}
