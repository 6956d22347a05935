import { checkAgain, found } from '../compile.js';
import type { Finding } from '../findings/finding.js';
import { type Library, loadLibrary } from '../library/library.js';
import { Checker, type Share } from '../rules/checker.js';
import { realWorld } from '../world/real.js';
import type { World } from '../world/world.js';
import { spendLater, spendOn } from './effort.js';
import { knownAtBuild, openKnown } from './known-files.js';
import { keep, type Listing, type Remembered } from './kept.js';
import { shippedFolder } from './package-folder.js';
import { readWhileRoom, roomForFound, tooMuchInShare, watchRoom } from './room.js';
import { listedIn, outOf, type Root } from './root.js';
import { type CheckReport, checkReport } from './share.js';

/** With what a check that looks anew needs besides. Loaded when it is asked for: an unchanged library needs none of it. */
export { sarifReporter } from './reporters/sarif.js';
export { shareOf } from './share.js';

/** Looks at everything that does not come with the tool anew, and keeps nothing. */
export function checkFresh(place: Root): Remembered {
  const { folder: root } = place;
  const known = knownAtBuild(root);
  const unchanged = (path: string) => known?.unchanged.get(path);
  const files: World['files'] = (folder, endings) => {
    const found = listedIn(place)(folder, endings);
    spendOn(found.length);
    return found;
  };
  const library = loadLibrary({ ...realWorld, files, read: readWhileRoom() }, root, shippedFolder, [outOf(root)], { unchanged });
  return { files: ownFiles(library), findings: lookAtAll(library, new Checker(known?.earlier)) };
}

/** @param each called before each look */
function lookAtAll(library: Library, checker: Checker, each: () => void = () => undefined): readonly Finding[] {
  const room = roomForFound(
    () => checker.found,
    () => library.files.length,
  );
  const enough = (): boolean => {
    each();
    room();
    return false;
  };
  return checkAgain(library, checker, { first: () => false, enough }).findings;
}

/** Looks at what has changed since the last check and at what depends on it, and keeps what the next one can use. */
export function checkChanged(root: string, listing: Listing): Remembered {
  const { library, earlier, hashOf, keep: keepKnown } = openKnown(root, listing);
  const checker = new Checker(earlier);
  const findings = lookAtAll(library, checker, spendLater());
  keepKnown(checker.now);
  // What comes with the tool is not looked at again while the shop's files are as they were: so all of it must have been read.
  const shipped = library.files.filter((file) => file.shipped);
  if (shipped.length > 0 && shipped.every((file) => file.readable))
    keep(root, listing, { findings, hashes: library.files.filter((file) => !file.shipped).map(hashOf) });
  return { files: ownFiles(library), findings };
}

const ownFiles = (library: Library): string[] => library.files.filter((file) => !file.shipped).map((file) => file.file.path);

/** A share of a library, checked now, as a report for `baywright merge`. */
export function checkShare(root: string, share: Share): CheckReport {
  const library = loadLibrary({ ...realWorld, read: readWhileRoom() }, root, shippedFolder, [outOf(root)]);
  const room = watchRoom(() => tooMuchInShare(share.of));
  return checkReport(library, share, found(library, share, room));
}
