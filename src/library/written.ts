import { standsFor } from '../schema/meant.js';
import { isDamaged, keysOf } from '../schema/origin.js';

// What a document declares in its file, as far as it could be read or not: what is wrong with an entry is told where it stands,
// and what would follow from it elsewhere is not told a second time.

/** The names that a section declares, also those of entries that could not be read. */
export const namesWritten = (section: object | undefined): readonly string[] =>
  section === undefined ? [] : isDamaged(section) ? keysOf(section) : Object.keys(section);

/** Whether a document lacks a section, and something in its file was meant as that: its name is misspelt, or what it holds is no section. */
export const isLost = (document: object, section: string): boolean =>
  !Object.hasOwn(document, section) &&
  isDamaged(document) &&
  keysOf(document).some((key) => !Object.hasOwn(document, key) && standsFor(key, section));

/** Whether all that a document declares in a section could be read. */
export function isWhole<K extends string>(document: Readonly<Partial<Record<K, unknown>>>, section: K): boolean {
  const value = document[section];
  return typeof value === 'object' && value !== null ? !isDamaged(value) : !isLost(document, section);
}
