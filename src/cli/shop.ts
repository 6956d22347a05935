import { type Library, loadLibrary } from '../library/library.js';
import { realWorld } from '../world/real.js';
import { shippedFolder } from './package-folder.js';
import { absolute, outOf, rootOf } from './root.js';

/** Loads the library that a path lies in; the current folder where none is named. */
export const openLibrary = (from: string | undefined, out: string | undefined): Library => {
  const root = rootOf(from);
  return loadLibrary(realWorld, root, shippedFolder, [out ? absolute(out) : outOf(root)]);
};
