import { isMadeAnew } from '../emit/names.js';
import type { OutputOptions } from '../emit/outputs.js';
import { realWorld } from '../world/real.js';
import { digest, keepOf, keptOf, type Sealed } from './kept.js';
import type { Outputs, ToMake } from './paper.js';

/**
 * What builds made of a job, kept in the user's cache folder by the folder that it was put into. Where the same would be made
 * again, and that folder holds it to the byte, it is not made: of a shop's jobs only those are printed that have changed.
 */
interface Made extends Sealed {
  /** The digest of the compiled job. */
  readonly of: string;
  /** The digest of what it was compiled from, where that is known. */
  readonly from: string | null;
  /** What was made of it, by the digest of what was asked for: of each file its size in bytes and its digest, by name. */
  readonly builds: Readonly<Record<string, Readonly<Record<string, readonly [number, string]>>>>;
}

/** So many ways to ask for paper of one job are kept, those that were asked last. */
const mostBuilds = 8;

const digestOf = (options: OutputOptions): string => digest(JSON.stringify(options));

const recalled = (folder: string): Made | null => keptOf<Made>(folder, '.paper');

/** The names of all that an order makes, where it lies in its folder as it was made; else null. */
function thereOf(folder: string, builds: Made['builds'], options: OutputOptions): readonly string[] | null {
  const files = builds[digestOf(options)];
  if (!files) return null;
  const put = Object.entries(files).map(
    ([name, [size, was]]) => [name, { size, isContent: (content: Uint8Array) => digest(content) === was }] as const,
  );
  // Papers that were not asked for may lie beside: they are of this version, as its `job.json` is.
  const isOurs = options.papers ? () => false : isMadeAnew;
  return realWorld.stillHolds(folder, new Map(put), isOurs) ? Object.keys(files) : null;
}

/** That of a job that is not compiled yet, where it would be compiled from the same. */
export function madeFrom(folder: string, from: string | null, options: OutputOptions): readonly string[] | null {
  const made = from === null ? null : recalled(folder);
  return made && made.from === from ? thereOf(folder, made.builds, options) : null;
}

/** That of a compiled job. */
export function madeBefore(folder: string, from: string | null, { job, options }: ToMake): readonly string[] | null {
  const made = recalled(folder);
  const there = made?.of === job.digest ? thereOf(folder, made.builds, options) : null;
  if (made && there && from !== null && from !== made.from)
    keepOf<Made>(folder, '.paper', Date.now(), { of: made.of, from, builds: made.builds });
  return there;
}

/** Keeps what was put into a folder. */
export function keepMade(folder: string, from: string | null, { job, options }: ToMake, outputs: Outputs): void {
  const made = recalled(folder);
  const before = made?.of === job.digest ? made : null;
  const asked = digestOf(options);
  const others = Object.entries(before?.builds ?? {}).filter(([one]) => one !== asked);
  const files = Object.fromEntries(
    Array.from(outputs, ([name, content]) => [name, [Buffer.byteLength(content), digest(content)] as const]),
  );
  keepOf<Made>(folder, '.paper', Date.now(), {
    of: job.digest,
    from: from ?? before?.from ?? null,
    builds: Object.fromEntries([...others, [asked, files] as const].slice(-mostBuilds)),
  });
}
