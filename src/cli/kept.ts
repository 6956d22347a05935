import crypto from 'node:crypto';
import type { Finding } from '../findings/finding.js';
import { revived, type StoredFinding, stored } from '../findings/stored.js';
import { yamlEndings } from '../library/root.js';
import type { SourceFile } from '../source/source.js';
import { realWorld } from '../world/real.js';
import type { Stamp } from '../world/world.js';
import { cacheFile } from './cache-folder.js';
import type { Fresh } from './fresh.js';
import { packageFolder, packageVersion } from './package-folder.js';
import { outOf } from './root.js';

/**
 * What the last check of a library found, kept in the user's cache folder. It is used again only if every file is as it
 * was: same list, same size and time of change, and where the time differs or is too near, the same content. What cannot
 * be read, was made by another version, or does not match its own digest is passed over and made anew; never trusted.
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

export interface Remembered {
  /** Paths of the shop's own files, relative to the root. */
  readonly files: readonly string[];
  readonly findings: readonly Finding[];
}

const digest = (text: string): string => crypto.createHash('sha256').update(text).digest('base64');
const bare = (text: string): string => text.replace(/^\ufeff/, '');

/** Changes with every version and every build of the tool. */
function toolKey(): string {
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
  const kept = place === null ? null : keptAt(place);
  if (!kept || kept.key !== toolKey() || kept.root !== root || kept.files.length !== files.length) return null;
  for (const [index, file] of files.entries()) {
    const stamp = stamps[index];
    if (!stamp || file !== kept.files[index] || stamp.size !== kept.sizes[index]) return null;
    if (stamp.time === kept.times[index] && stamp.time < kept.made - tooNear) continue;
    const now = realWorld.read(file, root);
    if (digest(now.ok ? bare(now.text) : '') !== kept.hashes[index]) return null;
  }
  const fileOf = filesOf(root);
  return { files: files.map((file) => file.slice(root.length + 1)), findings: kept.findings.map((one) => revived(one, fileOf)) };
}

/** The files of a library by their names in findings, each read once when it is asked for. */
export function filesOf(root: string): (name: string) => SourceFile {
  const texts = new Map<string, SourceFile>();
  return (name) => {
    let file = texts.get(name);
    if (!file) {
      const shipped = 'baywright:procedures/';
      const full = name.startsWith(shipped) ? `${packageFolder}/procedures/${name.slice(shipped.length)}` : `${root}/${name}`;
      const now = realWorld.read(full);
      file = { path: name, text: now.ok ? bare(now.text) : '' };
      texts.set(name, file);
    }
    return file;
  };
}

/** The file of the cache, if it is whole. */
function keptAt(place: string): Kept | null {
  const found = realWorld.readLarge(place);
  if (found === null) return null;
  const end = found.indexOf('\n');
  const body = found.slice(end + 1);
  if (end < 0 || digest(body) !== found.slice(0, end)) return null;
  return JSON.parse(body) as Kept;
}

/** Keeps what a check found. A cache that cannot be written is none; the check has its result all the same. */
export function keep(root: string, listing: Listing, fresh: Fresh): void {
  const place = cacheFile(root, '.json');
  if (place === null || fresh.files.length !== listing.files.length || listing.stamps.includes(null)) return;
  const kept: Kept = {
    key: toolKey(),
    root,
    made: Date.now(),
    files: listing.files,
    sizes: listing.stamps.map((stamp) => stamp?.size ?? 0),
    times: listing.stamps.map((stamp) => stamp?.time ?? 0),
    hashes: fresh.files.map((file) => digest(file.text)),
    findings: fresh.findings.map(stored),
  };
  const body = JSON.stringify(kept);
  realWorld.keep(place, `${digest(body)}\n${body}`);
}
