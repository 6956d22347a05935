import type { Library } from '../library/library.js';
import { openKnown } from './known-files.js';
import { absolute, outOf, rootOf } from './root.js';

/** Loads the library that a path lies in; the current folder where none is named. */
export function openLibrary(from: string | undefined, out: string | undefined): Library {
  const root = rootOf(from);
  const { library, earlier, keep } = openKnown(root, out ? absolute(out) : outOf(root));
  // What a check has found is worth more than what is known after reading alone.
  if (!earlier) keep({ library, names: [], looks: new Map() });
  return library;
}
