import { thisRun } from '../../src/world/run.js';

/** The name of a run on this machine, by its number. */
export const runHere = (number: number): string => thisRun().replace(/\d+$/, String(number));

/** One on another machine, or in a container. */
export const runElsewhere = '00000000-1';
