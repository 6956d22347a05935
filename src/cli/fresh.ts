import { checkLibrary } from '../compile.js';
import type { Finding } from '../findings/finding.js';
import { loadLibrary } from '../library/library.js';
import { realWorld } from '../world/real.js';
import { shippedFolder } from './package-folder.js';
import { outOf } from './root.js';

/** A whole library, read and checked now. */
export interface Fresh {
  /** Paths and texts of the shop's own files, in the order of the library. */
  readonly files: readonly { readonly path: string; readonly text: string }[];
  readonly findings: readonly Finding[];
}

export function checkFresh(root: string): Fresh {
  const library = loadLibrary(realWorld, root, shippedFolder, [outOf(root)]);
  return {
    files: library.files.filter((file) => !file.shipped).map((file) => file.file),
    findings: checkLibrary(library),
  };
}
