import path from 'node:path';
import { findRoot, type Library, loadLibrary } from '../library/library.js';
import { forward, realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';
import { packageFolder, shippedFolder } from './package-folder.js';

export { packageFolder, shippedFolder };

export const absolute = (name: string): string => forward(path.resolve(name));

/** Loads the library that a path lies in; the current folder where none is named. */
export function openLibrary(from: string | undefined, out: string | undefined): Library {
  const start = absolute(from ?? '.');
  const kind = realWorld.kindOf(start);
  if (kind === 'nothing') throw new CannotRun(`${from} does not exist.`);
  if (kind === 'other') throw new CannotRun(`${from} is neither a file nor a folder.`);
  const root = findRoot(realWorld, start) ?? (from === undefined ? null : kind === 'folder' ? start : forward(path.dirname(start)));
  if (root === null)
    throw new CannotRun(
      'There is no library here: no shop.yaml in this folder or in one above it. Go into a library, name one (`baywright check PATH`), or make one with `baywright new shop ID`.',
    );
  return loadLibrary(realWorld, root, shippedFolder, [out ? absolute(out) : `${root}/out`]);
}
