import fs from 'node:fs';
import type { Finding } from '../findings/finding.js';
import { revived, type StoredFinding, stored } from '../findings/stored.js';
import { type Archive, type FileFacts, KnownFile, type LibraryFile } from '../library/document.js';
import { fileAt, index, type Library, loadLibrary } from '../library/library.js';
import { fullPath } from '../library/root.js';
import { once } from '../once.js';
import type { KnownLibrary } from '../live-library.js';
import { Checker, type Earlier, type Look } from '../rules/checker.js';
import { type SourceFile, withoutMark } from '../source/source.js';
import { realWorld } from '../world/real.js';
import { CannotRun, type Stamp, type World } from '../world/world.js';
import { spendOn } from './effort.js';
import {
  digest,
  digestOfFile,
  filesOf,
  isAsItWas,
  isWorthKeepingAgain,
  keepOf,
  keptOf,
  type Listing,
  mostKept,
  type Sealed,
  type Trace,
} from './kept.js';
import { packageFolder, shippedFolder } from './package-folder.js';
import { hasRoomToKeep, readWhileRoom } from './room.js';
import { outOf } from './root.js';

/**
 * What the last check knew of each file of a library, kept in the user's cache folder: with it the next one reads only
 * what has changed and what depends on that. As with all that is kept, what does not fit is made anew; never trusted.
 */
interface Kept extends Sealed {
  /** Names that files asked for, by their numbers. */
  readonly names: readonly string[];
  readonly files: readonly KeptFile[];
}

interface KeptFile extends FileFacts, Trace {
  readonly name: string;
  /** What was found while it was read, and what the rules found in it; null where they had nothing to look at. */
  readonly read: readonly StoredFinding[];
  readonly looked: { readonly findings: readonly StoredFinding[]; readonly asked: readonly number[] } | null;
}

/** A library of which an earlier run may have known something. */
export interface Opened {
  readonly library: Library;
  /** Its own files before any of them was read. */
  readonly listing: Listing;
  /** What was found in it before: by an earlier run, else in the shipped documents when the tool was built. */
  readonly earlier: Earlier | undefined;
  /** Whether an earlier run has kept anything of it. */
  readonly wasKept: boolean;
  /** Whether files had to be read to see that they are as they were, and need not be if what is known is kept again. */
  readonly isWorthKeepingAgain: boolean;
  /** The digest of a file's text, or of why it could not be read. */
  hashOf(file: LibraryFile): string;
  /** Keeps what is known of each file now, for the next run. */
  keep(now: Earlier): void;
  /**
   * That all of some files are still as this run has read them, so that what follows from them is of one state of the library.
   * @throws where one is not
   */
  mustBeAsRead(paths: ReadonlySet<string>): void;
}

/** Loads a library that has been listed. Of files that are as an earlier run knew them none is read before it is asked for. */
export function openKnown(root: string, listing: Listing): Opened {
  const { made } = listing;
  const stamps = new Map(listing.files.map((file, n) => [file, listing.stamps[n] ?? null]));
  // From before a file is read: what changes meanwhile is seen the next time.
  const stampOf = (path: string) => once(stamps, path, () => realWorld.stamp(path));
  const known = knownFiles(root, stampOf, sameText);
  const files: World['files'] = (folder, endings) => {
    const found = folder === root ? [...listing.files] : realWorld.files(folder, endings);
    spendOn(found.length - (known?.unchanged.size ?? 0));
    return found;
  };
  const readNow = readWhileRoom();
  const read: World['read'] = (path, within) => {
    stampOf(path);
    return readNow(path, within);
  };
  const library = loadLibrary({ ...realWorld, files, read }, root, shippedFolder, [outOf(root)], {
    unchanged: (path) => known?.unchanged.get(path),
    ...(known && { library: known.earlier.library }),
  });
  const hashes = known?.hashes ?? new Map<LibraryFile, string>();
  const hashOf = (file: LibraryFile) => once(hashes, file, () => digestOfFile(file));
  const keep = (now: Earlier): void => {
    const found = [...now.looks.values()].reduce((sum, { findings }) => sum + findings.length, 0);
    if (hasRoomToKeep(Math.min(found, mostKept)))
      keepOf<Kept>(root, '.files', made, { names: now.names, files: filesToKeep(library, now, stampOf, hashOf) });
  };
  const mustBeAsRead = (paths: ReadonlySet<string>): void => {
    for (const name of paths) {
      const one = fileAt(library, name);
      if (!one) continue;
      const path = fullPath(name, root, shippedFolder);
      const [before, now] = [stampOf(path), realWorld.stamp(path)];
      if (before?.time !== now?.time || before?.size !== now?.size) sameText(path, one.shipped ? shippedFolder : root, hashOf(one));
    }
  };
  const { earlier, wasKept = false, isWorthKeepingAgain: again = false } = known ?? {};
  return { library, listing, earlier, wasKept, isWorthKeepingAgain: again, hashOf, keep, mustBeAsRead };
}

interface KnownFiles extends KnownLibrary {
  /** The digests of the texts of files that have not changed. */
  readonly hashes: Map<LibraryFile, string>;
  /** By an earlier run, and not when the tool was built. */
  readonly wasKept: boolean;
  readonly isWorthKeepingAgain: boolean;
}

type StampOf = (path: string) => Stamp | null;

/**
 * The text of a file that was known without reading it, when somebody asks for it.
 * @param hash the digest of what it was
 */
type TextOf = (path: string, within: string, hash: string) => string;

/** In a run that ends: what follows from one state of a file must not be printed with another, nor with none. */
const sameText: TextOf = (path, within, hash) => {
  const now = realWorld.read(path, within);
  if (!now.ok) throw new CannotRun(`${path} could be read before, and now cannot: ${now.why}. Run this again.`);
  const text = withoutMark(now.text);
  if (digest(text) !== hash) throw new CannotRun(`${path} was changed while this run looked at it. Run this again.`);
  return text;
};

/** Where all that happens to a file is heard of, and it is looked at again: as it is by now. */
const textNow: TextOf = (path, within) => {
  const now = realWorld.read(path, within);
  return now.ok ? withoutMark(now.text) : '';
};

/** What is known of a library that is looked at again and again. */
export const knownLive = (root: string): KnownLibrary | undefined => knownFiles(root, realWorld.stamp, textNow);

/**
 * What is known of a library: by an earlier run, else of the shipped documents alone.
 * @param stampOf size and time of a file as it is now
 */
function knownFiles(root: string, stampOf: StampOf, textOf: TextOf): KnownFiles | undefined {
  const kept = keptOf<Kept>(root, '.files');
  return kept ? { ...knownFrom(kept, root, stampOf, textOf), wasKept: true } : knownAtBuild(root, stampOf, textOf);
}

const builtFile = `${packageFolder}/dist/shipped.json`;

/** What was known of the shipped documents when the tool was built. They are compared by their content, as no time is kept. */
export function knownAtBuild(root: string, stampOf: StampOf = realWorld.stamp, textOf: TextOf = sameText): KnownFiles | undefined {
  let kept: Pick<Kept, 'made' | 'names' | 'files'>;
  try {
    kept = JSON.parse(fs.readFileSync(builtFile, 'utf8'));
  } catch {
    return undefined;
  }
  return { ...knownFrom(kept, root, stampOf, textOf), wasKept: false };
}

/** Finds that out, while the tool is built. */
export function keepAtBuild(): void {
  fs.rmSync(builtFile, { force: true });
  const library = loadLibrary(realWorld, `${packageFolder}/dist/no-shop`, shippedFolder);
  const checker = new Checker();
  checker.check(library);
  const files = filesToKeep(library, checker.now, realWorld.stamp, digestOfFile).map((one) => ({ ...one, time: 0 }));
  fs.writeFileSync(builtFile, JSON.stringify({ made: 0, names: checker.now.names, files }));
}

function knownFrom(
  kept: Pick<Kept, 'made' | 'names' | 'files'>,
  root: string,
  stampOf: StampOf,
  textOf: TextOf,
): Omit<KnownFiles, 'wasKept'> {
  const files: KnownFile<KeptFile>[] = [];
  const unchanged = new Map<string, LibraryFile>();
  const hashes = new Map<LibraryFile, string>();
  const looks = new Map<LibraryFile, Look>();
  const archive = new KeptArchive(root, files, unchanged, textOf);
  let again = false;
  for (const one of kept.files) {
    const path = fullPath(one.name, root, shippedFolder);
    const stamp = stampOf(path);
    const file = new KnownFile(one.name, one, archive);
    files.push(file);
    if (!isAsItWas(path, one.shipped ? shippedFolder : root, stamp, one, kept.made)) continue;
    again ||= isWorthKeepingAgain(stamp, one, kept.made);
    unchanged.set(path, file);
    hashes.set(file, one.hash);
    if (one.looked) looks.set(file, { findings: archive.revived(one.looked.findings), asked: one.looked.asked, stale: false });
  }
  return { unchanged, hashes, earlier: { library: index(root, files), names: kept.names, looks }, isWorthKeepingAgain: again };
}

/** What was kept of the files of a library. */
class KeptArchive implements Archive<KeptFile> {
  private readonly others: (name: string) => SourceFile;
  private byName: ReadonlyMap<string, SourceFile> | undefined;

  /**
   * @param files all that were kept
   * @param unchanged those of them that are as they were, by full path
   */
  constructor(
    private readonly root: string,
    private readonly files: readonly KnownFile<KeptFile>[],
    private readonly unchanged: ReadonlyMap<string, LibraryFile>,
    private readonly text: TextOf,
  ) {
    this.others = filesOf(root);
  }

  textOf({ name, shipped, hash }: KeptFile): string {
    const path = fullPath(name, this.root, shippedFolder);
    // Of one that has changed only what was kept is as it was.
    const read = this.unchanged.has(path) ? this.text : textNow;
    return read(path, shipped ? shippedFolder : this.root, hash);
  }

  findingsOf({ read }: KeptFile): readonly Finding[] {
    return this.revived(read);
  }

  revived(findings: readonly StoredFinding[]): readonly Finding[] {
    return findings.length === 0 ? none : findings.map((one) => revived(one, this.sourceOf));
  }

  private readonly sourceOf = (name: string): SourceFile => {
    this.byName ??= new Map(this.files.map(({ file }) => [file.path, file]));
    return this.byName.get(name) ?? this.others(name);
  };
}

const none: readonly Finding[] = [];

function filesToKeep(library: Library, { looks }: Earlier, stampOf: StampOf, hashOf: (file: LibraryFile) => string): KeptFile[] {
  const { root } = library;
  let found = 0;
  return library.files.flatMap((one): KeptFile[] => {
    const { file, shipped, readable, card, meant, allows, findings } = one;
    const stamp = readable ? stampOf(fullPath(file.path, root, shippedFolder)) : null;
    const look = looks.get(one);
    const here = findings.length + (look?.findings.length ?? 0);
    // A file that is not among them is looked at anew.
    if (!stamp || (here > 0 && found + here > mostKept)) return [];
    found += here;
    const looked = look ? { findings: look.findings.map(stored), asked: look.asked } : null;
    return [{ name: file.path, shipped, ...stamp, hash: hashOf(one), card, meant, allows, read: findings.map(stored), looked }];
  });
}
