import { checkAgain, checkLibrary, found } from '../compile.js';
import { type Library, loadLibrary } from '../library/library.js';
import { once } from '../once.js';
import { Checker, type Share } from '../rules/checker.js';
import { realWorld } from '../world/real.js';
import type { Stamp, World } from '../world/world.js';
import { keepFiles, knownFiles } from './known-files.js';
import { digest, keep, type Listing, type Remembered } from './kept.js';
import { shippedFolder } from './package-folder.js';
import { outOf } from './root.js';
import { type CheckReport, checkReport } from './share.js';

/** With what a check that looks anew needs besides. Loaded when it is asked for: an unchanged library needs none of it. */
export { sarifReporter } from './reporters/sarif.js';
export { shareOf } from './share.js';

/** Looks at everything anew, and keeps nothing. */
export function checkFresh(root: string): Remembered {
  const library = loadLibrary(realWorld, root, shippedFolder, [outOf(root)]);
  return { files: ownFiles(library), findings: checkLibrary(library) };
}

/** Looks at what has changed since the last check and at what depends on it, and keeps what the next one can use. */
export function checkChanged(root: string, listing: Listing): Remembered {
  const listed = new Map(listing.files.map((file, n) => [file, listing.stamps[n] ?? null]));
  const stamps = new Map<string, Stamp | null>();
  const stampOf = (path: string) => (listed.has(path) ? (listed.get(path) ?? null) : once(stamps, path, () => realWorld.stamp(path)));
  const known = knownFiles(root, stampOf);
  const files: World['files'] = (folder, endings) => (folder === root ? [...listing.files] : realWorld.files(folder, endings));
  const library = loadLibrary({ ...realWorld, files }, root, shippedFolder, [outOf(root)], undefined, known?.unchanged);
  const checker = new Checker(known?.earlier);
  const { findings } = checkAgain(library, checker);
  const hashes = new Map(library.files.map((file) => [file.file.path, known?.hashOf(file) ?? digest(file.file.text)]));
  keepFiles(library, checker.now, stampOf, ({ file }) => hashes.get(file.path) ?? '');
  keep(root, listing, { findings, hashes: ownFiles(library).map((path) => hashes.get(path) ?? '') });
  return { files: ownFiles(library), findings };
}

const ownFiles = (library: Library): string[] => library.files.filter((file) => !file.shipped).map((file) => file.file.path);

/** A share of a library, checked now, as a report for `baywright merge`. */
export function checkShare(root: string, share: Share): CheckReport {
  const library = loadLibrary(realWorld, root, shippedFolder, [outOf(root)]);
  return checkReport(library, share, found(library, share));
}
