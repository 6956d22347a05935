import { endsIn } from '../world/paths.js';
import { fullPath, nameOfPath, shippedAs, yamlEndings } from '../library/root.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { withoutMark } from '../source/source.js';
import { realWorld } from '../world/real.js';
import { digest, isLongUnchanged, keepOf, keptOf, type Listing, listingOf, type Sealed } from './kept.js';
import { shippedFolder } from './package-folder.js';
import { absolute, libraryAt } from './root.js';

/**
 * A job as the last build compiled it, kept in the user's cache folder: to print it again, or another paper of it, takes no
 * look at the library. It is used again only if the library has the same files, those that decide what stands on its paper
 * have the same content, and no other has changed; else it is compiled anew.
 */
interface Kept extends Sealed {
  /** Digests of the texts that decide what stands on its paper, by the names of their files in findings. */
  readonly used: Readonly<Record<string, string>>;
  /** Digest over the names of all files, and over size and time of those that are not used. */
  readonly state: string;
  readonly job: CompiledJob;
}

/** What a job is asked for by: its id, or the path of its file. Null for what may be both, or several jobs. */
function askedBy(name: string): string | null {
  const kind = realWorld.kindOf(absolute(name));
  if (kind === 'nothing') return name;
  return kind === 'file' && endsIn(name, yamlEndings) ? absolute(name) : null;
}

/** What is left of an earlier build of a job. */
interface Recalled {
  /** As it was kept; null where it was not, or where it may be another by now. */
  readonly job: CompiledJob | null;
  /** The files of its library, where that was looked at. */
  readonly listing: Listing | null;
}

/** The job of a name as an earlier build compiled it. */
export function recallJob(name: string): Recalled {
  const asked = askedBy(name);
  if (asked === null) return { job: null, listing: null };
  const root = libraryAt(asked === name ? undefined : name);
  const kept = keptOf<Kept>(root, '.job', asked);
  if (!kept) return { job: null, listing: null };
  const listing = listingOf({ folder: root, alone: false });
  const isAsUsed = ([file, was]: readonly [string, string]): boolean => {
    const now = realWorld.read(fullPath(file, root, shippedFolder), file.startsWith(shippedAs) ? shippedFolder : root);
    return now.ok && digest(withoutMark(now.text)) === was;
  };
  const isSame = stateOf(root, { ...listing, made: kept.made }, kept.used) === kept.state;
  return { job: isSame && Object.entries(kept.used).every(isAsUsed) ? kept.job : null, listing };
}

/**
 * Keeps a job that was compiled without errors, for who asks for it by the same name.
 * @param used digests of the texts that decide what stands on its paper, as they were read, by the names of their files
 * @param listing the library before any of it was read
 */
export function keepJob(name: string, root: string, job: CompiledJob, used: Readonly<Record<string, string>>, listing: Listing): void {
  const asked = askedBy(name);
  const state = stateOf(root, listing, used);
  if (asked !== null && state !== null) keepOf<Kept>(root, '.job', listing.made, { used, state, job }, asked);
}

/** Null where the time of a file does not say whether it has changed. */
function stateOf(root: string, { files, stamps, made }: Listing, used: Readonly<Record<string, string>>): string | null {
  const lines = realWorld.files(shippedFolder, yamlEndings);
  for (const [n, file] of files.entries()) {
    const stamp = stamps[n] ?? null;
    if (nameOfPath(file, root, shippedFolder) in used) lines.push(file);
    else if (stamp && isLongUnchanged(stamp, made)) lines.push(`${file} ${stamp.size} ${stamp.time}`);
    else return null;
  }
  return digest(lines.join('\n'));
}
