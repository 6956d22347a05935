import v8 from 'node:v8';
import { findRoot } from '../library/root.js';
import { realWorld } from '../world/real.js';
import { absolute } from './root.js';

/** What is asked of the tool, and what for; words that follow an option are among the latter. */
const [command = '', ...named] = process.argv.slice(2).filter((one) => !one.startsWith('-'));

/** A file is checked that lies in no library: it alone is looked at. */
const alone = command === 'check' && named[0] !== undefined && liesAlone(named[0]);

function liesAlone(name: string): boolean {
  try {
    return findRoot(realWorld, absolute(name)) === null;
  } catch {
    // The current folder is gone; that is told later.
    return false;
  }
}

/** What kind of run this is, as far as it decides which parts of the tool are used. */
export const kindOfRun = alone ? 'check alone' : command === 'check' || named.length === 0 ? command : `${command} named`;

/** The options that say what paper is made, as they were given. */
export const paperAsked = process.argv
  .slice(2)
  .filter((one, n, all) => /^--(paper|format)(=|$)/.test(one) || /^--(paper|format)$/.test(all[n - 1] ?? ''))
  .join(' ');

/**
 * Whether the engine spares itself: what it optimizes on the side takes a third of the time of both cores, and mostly does not
 * pay before paper is made or what has changed is checked; and a page of memory that is touched for the first time takes as
 * long as a step to check. A check of one file alone is over sooner than that is told. Measured with the engine of Node 20; later
 * ones have other switches, and weigh for themselves.
 */
export const sparing =
  process.versions.v8.startsWith('11.') && (command === 'build' || (command === 'check' && !alone && !process.argv.includes('--watch')));

/** Has less optimized, and keeps the room for young objects small. */
export const spare = (): void => tell('--interrupt-budget=528000', '--semi-space-growth-factor=1');

/**
 * Nearly as the engine is by itself. By itself it wants so much optimized (its budget is 67,584) that what does the first two
 * seconds’ work waits behind what hardly matters.
 */
const spend = (): void => tell('--interrupt-budget=160000', '--semi-space-growth-factor=2');

/** To read more files than these takes so long that it pays to have more optimized. */
const many = 500;

/** Spares no longer if many files are to be read. */
export function spendOn(files: number): void {
  if (files > many) spend();
}

/** To look for longer than this at what depends on a change says that it is much, ms. */
const long = 100;

/** To be called file by file: spares no longer once they turn out to be many, or each to be much. */
export function spendLater(): () => void {
  const end = performance.now() + long;
  let spent = false;
  return () => {
    if (spent || performance.now() < end) return;
    spent = true;
    spend();
  };
}

/** To be called for each of many: does something for one of so many. */
export function atEvery(count: number, work: () => void): () => void {
  let calls = 0;
  return () => {
    if (++calls % count === 0) work();
  };
}

function tell(...switches: readonly string[]): void {
  if (!sparing) return;
  for (const one of switches) v8.setFlagsFromString(one);
}
