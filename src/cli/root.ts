import path from 'node:path';
import { fileEndings, findRoot, yamlEndings } from '../library/root.js';
import { forward } from '../world/paths.js';
import { realWorld } from '../world/real.js';
import { CannotRun, type World } from '../world/world.js';

export const absolute = (name: string): string => forward(path.resolve(name));

/** Where paper goes if nobody says otherwise; what lies in it is no part of the library. */
export const outOf = (root: string): string => `${root}/out`;

/** Where documents are looked for. */
export interface Root {
  readonly folder: string;
  /** A file was named that lies in no library: it is looked at with those beside it, and nothing is looked for below. */
  readonly alone: boolean;
}

/** The folder of the library that a path lies in; that around the current folder where none is named. */
export function rootOf(from: string | undefined): Root {
  const start = absolute(from ?? '.');
  const kind = realWorld.kindOf(start);
  if (kind === 'nothing') throw realWorld.isHidden(start) ? hidden(from ?? start) : new CannotRun(`${from ?? start} does not exist.`);
  if (kind === 'other') throw new CannotRun(`${from} is neither a file nor a folder.`);
  const root = findRoot(realWorld, start) ?? (from !== undefined && kind === 'folder' ? start : null);
  if (root !== null) return { folder: root, alone: false };
  if (from === undefined) throw noLibrary(start);
  return { folder: forward(path.dirname(start)), alone: true };
}

/** Something that may be there, and that this user may not see. */
export const hidden = (name: string) => new CannotRun(`${name} cannot be looked at: permission is denied.`);

/** The folder of a library, which must be one. */
export function libraryAt(from: string | undefined): string {
  const { folder, alone } = rootOf(from);
  if (alone) throw noLibrary(folder);
  return folder;
}

/** @param folder where one was looked for; some systems take `Shop.yaml` for `shop.yaml`, and others do not */
function noLibrary(folder: string): CannotRun {
  const wrong = yamlEndings.map((ending) => `${folder}/shop${ending}`).find((file) => realWorld.kindOf(file) !== 'nothing');
  if (wrong !== undefined)
    return new CannotRun(`There is no library here: ${wrong} is not a file. Put the file of the shop there, or go into another folder.`);
  const other = realWorld.filesIn(folder, fileEndings).find((file) => /^shop\.ya?ml(\.txt)?$/i.test(path.basename(file)));
  if (other === undefined)
    return new CannotRun(
      'There is no library here: no shop.yaml in this folder or in one above it. Go into a library, name one (`baywright check PATH`), or make one with `baywright new shop ID`.',
    );
  return new CannotRun(
    /^shop\.ya?ml$/.test(path.basename(other))
      ? `There is no library here: ${other} is a link to a file that there is not. Mend the link, or put the file of the shop there.`
      : `There is no library here: its shop is called shop.yaml. Call ${other} so.`,
  );
}

/** The files of a library, or of a folder alone. */
export const listedIn =
  ({ folder: root, alone }: Root): World['files'] =>
  (folder, endings) =>
    alone && folder === root ? realWorld.filesIn(folder, endings) : realWorld.files(folder, endings);
