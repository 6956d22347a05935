import { endsIn } from '../world/paths.js';
import type { World } from '../world/world.js';

/** Before the name of a file that comes with the tool, in findings. */
export const shippedAs = 'baywright:procedures/';

/** The full path of a file by its name in findings. */
export const fullPath = (name: string, root: string, shippedFolder: string): string =>
  name.startsWith(shippedAs) ? `${shippedFolder}/${name.slice(shippedAs.length)}` : `${root}/${name}`;

/** The same the other way round. */
export const nameOfPath = (path: string, root: string, shippedFolder: string): string =>
  path.startsWith(`${shippedFolder}/`) ? `${shippedAs}${path.slice(shippedFolder.length + 1)}` : path.slice(root.length + 1);

export const yamlEndings = ['.yaml', '.yml'] as const;

/** What a file of YAML is called where an editor for plain text gave it its own ending, which some systems hide. */
const endingsOfText = yamlEndings.map((ending) => `${ending}.txt`);

/** The name that a file was to have; null where it has it. */
export const nameMeant = (path: string): string | null => (endsIn(path, endingsOfText) ? path.slice(0, -'.txt'.length) : null);

/** The endings of all files of a library that are looked at, if only to say that they are called otherwise. */
export const fileEndings: readonly string[] = [...yamlEndings, ...endingsOfText];

/** Whether a path is that of a folder or lies below it. */
export const liesIn = (path: string, folder: string): boolean =>
  path === folder || path.startsWith(folder.endsWith('/') ? folder : `${folder}/`);

/** Walks up from a file or folder to the folder that holds shop.yaml. */
export function findRoot(world: World, from: string): string | null {
  let folder = world.kindOf(from) === 'folder' ? from : parentOf(from);
  for (let up = 0; up < 64; up++) {
    if (world.kindOf(`${folder}/shop.yaml`) === 'file' || world.kindOf(`${folder}/shop.yml`) === 'file') return folder;
    const parent = parentOf(folder);
    if (parent === folder) return null;
    folder = parent;
  }
  return null;
}

export const parentOf = (path: string): string => path.replace(/\/[^/]*$/, '') || '/';
