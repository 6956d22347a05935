import { isMadeAnew } from '../emit/names.js';
import { realWorld } from '../world/real.js';
import { digest, keepOf, keptOf, type Sealed } from './kept.js';
import type { Outputs } from './paper.js';
import type { Ordered } from './printing.js';

/** What is made of a job. */
type Order = Pick<Ordered, 'job' | 'options'>;

/**
 * What a build made of a job, kept in the user's cache folder by the folder that it was put into. Where the same would be
 * made again, and that folder holds it to the byte, it is not made: of a shop's jobs only those are printed that have changed.
 */
interface Made extends Sealed {
  /** Digest of the compiled job and of what was asked for. */
  readonly of: string;
  /** Digests of the files, by name. */
  readonly files: Readonly<Record<string, string>>;
}

const digestOf = ({ job, options }: Order): string => digest(JSON.stringify([job, options]));

/** The names of all that an order makes, where it lies in its folder already; else null. */
export function madeBefore(folder: string, order: Order): readonly string[] | null {
  const made = keptOf<Made>(folder, '.paper');
  if (made?.of !== digestOf(order)) return null;
  const names = Object.keys(made.files);
  // Papers that were not asked for may lie beside: they are of this version, as its `job.json` is.
  const isOurs = order.options.papers ? () => false : isMadeAnew;
  return realWorld.stillHolds(folder, names, (name, content) => digest(content) === made.files[name], isOurs) ? names : null;
}

/** Keeps what was put into a folder. */
export function keepMade(folder: string, order: Order, outputs: Outputs): void {
  const files = Object.fromEntries(Array.from(outputs, ([name, content]) => [name, digest(content)]));
  keepOf<Made>(folder, '.paper', Date.now(), { of: digestOf(order), files });
}
