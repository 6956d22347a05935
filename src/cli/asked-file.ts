import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';
import { boundedJson } from './bounded-json.js';
import { absolute } from './root.js';

/**
 * What is in a JSON file that somebody names at the prompt: a share, a baseline, a record.
 * @param what what it should be
 * @param read makes it of the value in the file; null where that is something else
 * @param toMake how to make one, a sentence
 */
export function inFileNamed<T>(what: string, name: string, read: (value: unknown) => T | null, toMake: string): T {
  const file = realWorld.readLarge(absolute(name));
  if (!file.ok) throw new CannotRun(`The ${what} ${name} cannot be read: ${file.why}. ${toMake}`);
  const value = read(boundedJson(file.text));
  if (value === null) throw new CannotRun(`${name} is no ${what}. ${toMake}`);
  return value;
}
