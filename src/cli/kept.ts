import crypto from 'node:crypto';
import type { Finding } from '../findings/finding.js';
import { revived, type StoredFinding, stored } from '../findings/stored.js';
import type { LibraryFile } from '../library/document.js';
import { fileEndings, fullPath, liesIn, shippedAs } from '../library/root.js';
import { cannotBeRead, type SourceFile, withoutMark } from '../source/source.js';
import { realWorld } from '../world/real.js';
import type { Stamp } from '../world/world.js';
import { cacheFile, type Ending } from './cache-folder.js';
import { packageFolder, shippedFolder } from './package-folder.js';
import { hasRoomFor, hasRoomToKeep } from './room.js';
import { listedIn, outOf, type Root } from './root.js';

/**
 * What the last check of a library found, kept in the user's cache folder. It is used again only if every file is as it
 * was: same list, same size and time of change, and where the time differs or is too near, the same content. What cannot
 * be read, may have been written by somebody else, was made by another version, or does not match its own digest is passed
 * over and made anew; never trusted.
 */
interface Kept extends Sealed {
  readonly files: readonly string[];
  readonly sizes: readonly number[];
  readonly times: readonly number[];
  readonly hashes: readonly string[];
  readonly findings: readonly StoredFinding[];
}

/** What is kept of a library, with what says whether it still fits. */
export interface Sealed {
  /** Build of the tool, version of this form and of the engine. */
  readonly key: string;
  readonly root: string;
  /** When its files were listed, ms: before any of them was read. */
  readonly made: number;
}

/** A file that changed this shortly before the cache was made may have changed again within the same tick of the clock, ms. */
const tooNear = 2000;

/** A file as it was when something was kept of it. */
export interface Trace {
  readonly size: number;
  readonly time: number;
  /** The digest of its text, or of why it could not be read. */
  readonly hash: string;
}

/** Whether the time of a file can say that it is as it was: not where it could not be read, since a disk may answer again. */
const hasTime = ({ hash }: Trace): boolean => !hash.startsWith(whyMark);

/** Whether a file has not changed for so long that its time says whether it does. */
export const isLongUnchanged = ({ time }: Pick<Stamp, 'time'>, made: number): boolean => time < made - tooNear;

/** Whether the time of a file says that it is as it was. */
const isSure = (stamp: Stamp | null, was: Trace, made: number): boolean =>
  stamp?.time === was.time && isLongUnchanged(was, made) && hasTime(was);

/** Whether a file had to be read to tell, and need not be the next time if what is kept of it is made anew now. */
export const isWorthKeepingAgain = (stamp: Stamp | null, was: Trace, made: number): boolean =>
  stamp !== null && !isSure(stamp, was, made) && stamp.time < Date.now() - tooNear && hasTime(was);

/** Whether a file is as it was: by size and time, and by its content where those do not decide. */
export function isAsItWas(path: string, within: string, stamp: Stamp | null, was: Trace, made: number): boolean {
  if (!stamp || stamp.size !== was.size) return false;
  if (isSure(stamp, was, made)) return true;
  const now = realWorld.read(path, within);
  return (now.ok ? digest(withoutMark(now.text)) : digestOfWhy(cannotBeRead(now.why))) === was.hash;
}

export interface Remembered {
  /** Paths of the shop's own files, relative to the root. */
  readonly files: readonly string[];
  readonly findings: readonly Finding[];
}

export const digest = (text: string | Uint8Array): string => crypto.createHash('sha256').update(text).digest('base64');

const whyMark = '!';

const digestOfWhy = (message: string): string => `${whyMark}${digest(message)}`;

/** The digest of a file's text, or of why it could not be read. */
export const digestOfFile = ({ file, readable, findings }: LibraryFile): string =>
  readable ? digest(file.text) : digestOfWhy(findings[0]?.message ?? '');

/** Another for each build of the tool, however often that is installed anew; null where the installation is not whole. */
function toolKey(): string | null {
  const build = realWorld.readLarge(`${packageFolder}/dist/bundle/digest.txt`);
  return build.ok ? `2 ${process.versions.node} ${build.text.trim()}` : null;
}

/** The library's own files as they are now, before anything is read. */
export interface Listing {
  readonly files: readonly string[];
  readonly stamps: readonly (Stamp | null)[];
  /** When they were listed, ms. */
  readonly made: number;
}

export function listingOf(place: Root): Listing {
  const made = Date.now();
  const { folder: root } = place;
  const files = listedIn(place)(root, fileEndings).filter((file) => !liesIn(file, outOf(root)));
  return { files, stamps: files.map((file) => realWorld.stamp(file)), made };
}

/** What the last check found, if nothing has changed since. */
export function recall(root: string, listing: Listing): Remembered | null {
  const { files, stamps } = listing;
  const kept = keptOf<Kept>(root, '.json');
  if (kept?.files.length !== files.length) return null;
  let again = false;
  for (const [index, file] of files.entries()) {
    const was = { size: kept.sizes[index] ?? -1, time: kept.times[index] ?? -1, hash: kept.hashes[index] ?? '' };
    const stamp = stamps[index] ?? null;
    if (file !== kept.files[index] || !isAsItWas(file, root, stamp, was, kept.made)) return null;
    again ||= isWorthKeepingAgain(stamp, was, kept.made);
  }
  if (again) keepWith(listing, root, kept);
  const fileOf = filesOf(root);
  return { files: files.map((file) => file.slice(root.length + 1)), findings: kept.findings.map((one) => revived(one, fileOf)) };
}

/** The files of a library by their names in findings, each read once when it is asked for. */
export function filesOf(root: string): (name: string) => SourceFile {
  const texts = new Map<string, SourceFile>();
  return (name) => {
    let file = texts.get(name);
    if (!file) {
      const now = realWorld.read(fullPath(name, root, shippedFolder), name.startsWith(shippedAs) ? shippedFolder : root);
      file = { path: name, text: now.ok ? withoutMark(now.text) : '' };
      texts.set(name, file);
    }
    return file;
  };
}

/** Where something of a library is kept, or of one thing in it. */
const placeOf = (root: string, ending: Ending, of: string): string | null => cacheFile(of === '' ? root : `${root} ${of}`, ending);

/** What was kept of a library, or of one thing in it, if it is whole and fits. */
export function keptOf<K extends Sealed>(root: string, ending: Ending, of = ''): K | null {
  const place = placeOf(root, ending, of);
  const found = place === null ? null : realWorld.readOwn(place);
  const end = found?.indexOf('\n') ?? -1;
  if (found === null || end < 0 || !hasRoomFor(found.length)) return null;
  const body = found.subarray(end + 1);
  if (digest(body) !== found.toString('latin1', 0, end)) return null;
  const kept = JSON.parse(body.toString('utf8')) as K;
  return kept.key === toolKey() && kept.root === root ? kept : null;
}

/** Keeps something of a library, or of one thing in it, sealed. What cannot be written is not kept. */
export function keepOf<K extends Sealed>(root: string, ending: Ending, made: number, what: Omit<K, keyof Sealed>, of = ''): void {
  const place = placeOf(root, ending, of);
  const key = toolKey();
  if (place === null || key === null) return;
  const body = Buffer.from(JSON.stringify({ key, root, made, ...what }));
  realWorld.keep(place, Buffer.concat([Buffer.from(`${digest(body)}\n`), body]));
}

/** So many findings are kept of a library: to read more of them takes as long, and as much memory, as to find them. */
export const mostKept = 50_000;

/** Keeps what a check found. */
export function keep(
  root: string,
  listing: Listing,
  { findings, hashes }: { readonly findings: readonly Finding[]; readonly hashes: readonly string[] },
): void {
  if (
    hashes.length === listing.files.length &&
    !listing.stamps.includes(null) &&
    findings.length <= mostKept &&
    hasRoomToKeep(findings.length)
  )
    keepWith(listing, root, { hashes, findings: findings.map(stored) });
}

const keepWith = ({ files, stamps, made }: Listing, root: string, { hashes, findings }: Pick<Kept, 'hashes' | 'findings'>): void =>
  keepOf<Kept>(root, '.json', made, {
    files,
    sizes: stamps.map((stamp) => stamp?.size ?? 0),
    times: stamps.map((stamp) => stamp?.time ?? 0),
    hashes,
    findings,
  });
