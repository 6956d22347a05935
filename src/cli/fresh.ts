import { checkLibrary, found } from '../compile.js';
import type { Finding } from '../findings/finding.js';
import { loadLibrary } from '../library/library.js';
import { realWorld } from '../world/real.js';
import { shippedFolder } from './package-folder.js';
import type { Share } from '../rules/checker.js';
import { outOf } from './root.js';
import { type CheckReport, checkReport } from './share.js';

/** With what a check that looks anew needs besides. Loaded when it is asked for: an unchanged library needs none of it. */
export { sarifReporter } from './reporters/sarif.js';
export { shareOf } from './share.js';

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

/** A share of a library, checked now, as a report for `baywright merge`. */
export function checkShare(root: string, share: Share): CheckReport {
  const library = loadLibrary(realWorld, root, shippedFolder, [outOf(root)]);
  return checkReport(library, share, found(library, share));
}
