import modules from 'node:module';
import { packageFolder } from './package-folder.js';

/** What is asked of the tool, and what for; words that follow an option are among the latter. */
export const [command = '', ...named] = process.argv.slice(2).filter((one) => !one.startsWith('-'));

/**
 * Whether the engine spares itself: what it optimizes on the side takes a third of the time of both cores, and mostly does not
 * pay before paper is made or what has changed is checked; and a page of memory that is touched for the first time takes as
 * long as a step to check. A check of one file is over sooner than that is told. Measured with the engine of Node 20; later
 * ones have other switches, and weigh for themselves.
 */
export const sparing =
  process.versions.v8.startsWith('11.') &&
  (command === 'build' || (command === 'check' && named.length === 0 && !process.argv.includes('--watch')));

/** Has less optimized, and keeps the room for young objects small. */
export const spare = (): void => tell('--interrupt-budget=528000', '--semi-space-growth-factor=1');

/** To read more files than these takes so long that it pays to have more optimized. */
const many = 500;

/**
 * Nearly as the engine is by itself, if many files are to be read. By itself it wants so much optimized (its budget is
 * 67,584) that what does the first two seconds’ work waits behind what hardly matters.
 */
export function spendOn(files: number): void {
  if (files > many) tell('--interrupt-budget=160000', '--semi-space-growth-factor=2');
}

function tell(...switches: readonly string[]): void {
  if (!sparing) return;
  const v8: typeof import('node:v8') = modules.createRequire(`${packageFolder}/package.json`)('node:v8');
  for (const one of switches) v8.setFlagsFromString(one);
}
