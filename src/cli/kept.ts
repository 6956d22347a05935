import crypto from 'node:crypto';
import type { Finding } from '../findings/finding.js';
import { revived, type StoredFinding, stored } from '../findings/stored.js';
import { shippedAs, yamlEndings } from '../library/root.js';
import type { SourceFile } from '../source/source.js';
import { realWorld } from '../world/real.js';
import type { Stamp } from '../world/world.js';
import { cacheFile } from './cache-folder.js';
import { packageFolder, packageVersion } from './package-folder.js';
import { outOf } from './root.js';

/**
 * What the last check of a library found, kept in the user's cache folder. It is used again only if every file is as it
 * was: same list, same size and time of change, and where the time differs or is too near, the same content. What cannot
 * be read, may have been written by somebody else, was made by another version, or does not match its own digest is passed
 * over and made anew; never trusted.
 */
interface Kept {
  /** Version of the tool and of this form. */
  readonly key: string;
  readonly root: string;
  /** When it was made, ms. */
  readonly made: number;
  readonly files: readonly string[];
  readonly sizes: readonly number[];
  readonly times: readonly number[];
  readonly hashes: readonly string[];
  readonly findings: readonly StoredFinding[];
}

/** A file that changed this shortly before the cache was made may have changed again within the same tick of the clock, ms. */
const tooNear = 2000;

/** A file as it was when something was kept of it. */
export interface Trace {
  readonly size: number;
  readonly time: number;
  readonly hash: string;
}

/** Whether a file is as it was: by size and time, and by its content where those do not decide. */
export function isAsItWas(path: string, within: string, stamp: Stamp | null, was: Trace, made: number): boolean {
  if (!stamp || stamp.size !== was.size) return false;
  if (stamp.time === was.time && stamp.time < made - tooNear) return true;
  const now = realWorld.read(path, within);
  return digest(now.ok ? bare(now.text) : '') === was.hash;
}

export interface Remembered {
  /** Paths of the shop's own files, relative to the root. */
  readonly files: readonly string[];
  readonly findings: readonly Finding[];
}

export const digest = (text: string): string => crypto.createHash('sha256').update(text).digest('base64');
export const bare = (text: string): string => text.replace(/^\ufeff/, '');

/** Changes with every version and every build of the tool. */
export function toolKey(): string {
  const stamps = ['dist/bundle/fresh.cjs', 'dist/bundle/commands.cjs'].map((name) => realWorld.stamp(`${packageFolder}/${name}`));
  return `1 ${packageVersion()} ${process.versions.node} ${stamps.map((stamp) => `${stamp?.size} ${stamp?.time}`).join(' ')}`;
}

/** The library's own files as they are now, before anything is read. */
export interface Listing {
  readonly files: readonly string[];
  readonly stamps: readonly (Stamp | null)[];
}

export function listingOf(root: string): Listing {
  const files = realWorld.files(root, yamlEndings).filter((file) => !file.startsWith(`${outOf(root)}/`));
  return { files, stamps: files.map((file) => realWorld.stamp(file)) };
}

/** What the last check found, if nothing has changed since. */
export function recall(root: string, { files, stamps }: Listing): Remembered | null {
  const place = cacheFile(root, '.json');
  const kept = place === null ? null : (keptAt(place) as Kept | null);
  if (!kept || kept.key !== toolKey() || kept.root !== root || kept.files.length !== files.length) return null;
  for (const [index, file] of files.entries()) {
    const was = { size: kept.sizes[index] ?? -1, time: kept.times[index] ?? -1, hash: kept.hashes[index] ?? '' };
    if (file !== kept.files[index] || !isAsItWas(file, root, stamps[index] ?? null, was, kept.made)) return null;
  }
  const fileOf = filesOf(root);
  return { files: files.map((file) => file.slice(root.length + 1)), findings: kept.findings.map((one) => revived(one, fileOf)) };
}

/** The full path of a file by its name in findings. */
export const fullPath = (root: string, name: string): string =>
  name.startsWith(shippedAs) ? `${packageFolder}/procedures/${name.slice(shippedAs.length)}` : `${root}/${name}`;

/** The files of a library by their names in findings, each read once when it is asked for. */
export function filesOf(root: string): (name: string) => SourceFile {
  const texts = new Map<string, SourceFile>();
  return (name) => {
    let file = texts.get(name);
    if (!file) {
      const now = realWorld.read(fullPath(root, name));
      file = { path: name, text: now.ok ? bare(now.text) : '' };
      texts.set(name, file);
    }
    return file;
  };
}

/** What was kept in a file of the cache, if that is whole. */
export function keptAt(place: string): unknown {
  const found = realWorld.readOwn(place)?.toString('utf8');
  if (found === undefined) return null;
  const end = found.indexOf('\n');
  const body = found.slice(end + 1);
  return end < 0 || digest(body) !== found.slice(0, end) ? null : JSON.parse(body);
}

/** Keeps something in a file of the cache, sealed. A cache that cannot be written is none. */
export function keepAt(place: string, what: unknown): void {
  const body = JSON.stringify(what);
  realWorld.keep(place, `${digest(body)}\n${body}`);
}

/** Keeps what a check found. */
export function keep(
  root: string,
  listing: Listing,
  { findings, hashes }: { readonly findings: readonly Finding[]; readonly hashes: readonly string[] },
): void {
  const place = cacheFile(root, '.json');
  if (place === null || hashes.length !== listing.files.length || listing.stamps.includes(null)) return;
  const kept: Kept = {
    key: toolKey(),
    root,
    made: Date.now(),
    files: listing.files,
    sizes: listing.stamps.map((stamp) => stamp?.size ?? 0),
    times: listing.stamps.map((stamp) => stamp?.time ?? 0),
    hashes,
    findings: findings.map(stored),
  };
  keepAt(place, kept);
}
