import path from 'node:path';
import { findRoot } from '../library/root.js';
import { forward } from '../world/paths.js';
import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';

export const absolute = (name: string): string => forward(path.resolve(name));

/** Where paper goes if nobody says otherwise; what lies in it is no part of the library. */
export const outOf = (root: string): string => `${root}/out`;

/** The folder of the library that a path lies in; that around the current folder where none is named. */
export function rootOf(from: string | undefined): string {
  const start = absolute(from ?? '.');
  const kind = realWorld.kindOf(start);
  if (kind === 'nothing') throw new CannotRun(`${from} does not exist.`);
  if (kind === 'other') throw new CannotRun(`${from} is neither a file nor a folder.`);
  const root = findRoot(realWorld, start) ?? (from === undefined ? null : kind === 'folder' ? start : forward(path.dirname(start)));
  if (root === null)
    throw new CannotRun(
      'There is no library here: no shop.yaml in this folder or in one above it. Go into a library, name one (`baywright check PATH`), or make one with `baywright new shop ID`.',
    );
  return root;
}
