import v8 from 'node:v8';
import vm from 'node:vm';
import type { Finding } from '../findings/finding.js';
import type { RoomForFound } from '../live-library.js';
import { placeOf } from '../source/source.js';
import { realWorld } from '../world/real.js';
import { CannotRun, type World } from '../world/world.js';
import { atEvery } from './effort.js';

/**
 * Shares of what the engine may have: from the one on it is asked to collect; if more than the other is left then, there is no
 * room for the rest. From 0.8 on it may end because it mostly collects.
 */
const much = 0.77;
const tooMuch = 0.72;

/** The same of what a container may have. */
const muchInAll = 0.85;
const tooMuchInAll = 0.92;

const megabyte = 1024 * 1024;

/** How much of the engine's limit is for old objects where nobody says it; that for young ones differs by engine and machine. */
const oldShare = 0.9;

/** What old objects may take, bytes: what Node was asked for, else what the engine made of the machine. */
const forOld = (): number => {
  const given = [...(process.env.NODE_OPTIONS ?? '').split(/\s+/), ...process.execArgv];
  const asked = given.flatMap((one) => /^--max[-_]old[-_]space[-_]size=(\d+)$/.exec(one)?.[1] ?? []).at(-1);
  return asked === undefined ? v8.getHeapStatistics().heap_size_limit * oldShare : Number(asked) * megabyte;
};

let allowed: number | undefined;

/** What the container allows the whole process, bytes: beyond it the system ends it without a word. */
export function inAll(): number {
  allowed ??= process.constrainedMemory() || Number.POSITIVE_INFINITY;
  return allowed;
}

/** Whether there is room is asked once in so many files: to ask takes longer than to read one. */
const fewFiles = 128;

/**
 * What asks, when it is called for each file, whether there is room for more: an engine that runs out of memory ends at once,
 * and says what only its makers understand.
 * @param says what is told where no room is left
 * @throws then
 */
export const watchRoom = (says: () => string): (() => void) => atEvery(fewFiles, () => mustHaveRoom(says));

/** What plain data takes in memory while it is made of a text, and with it, by the length of that. */
const asData = 8;

/** Whether there is room for the data in a text of so many bytes. */
export function hasRoomFor(bytes: number): boolean {
  // Of what is small nobody asks.
  if (bytes < megabyte) return true;
  return bytes * asData < Math.min(forOld() - v8.getHeapStatistics().used_heap_size, inAll() * tooMuchInAll - process.memoryUsage.rss());
}

/** A finding as text, bytes. */
const findingAsText = 400;

/** Whether there is room to write down so many findings; what cannot be kept is found again. */
export const hasRoomToKeep = (findings: number): boolean => hasRoomFor(findings * findingAsText);

/** Reads files as long as there is room for them; where they are read again and again, nobody counts them. */
export function readWhileRoom({ again = false } = {}): World['read'] {
  let count = 0;
  const room = watchRoom(() => tooManyFiles(again ? null : count));
  return (path, within) => {
    count++;
    room();
    return realWorld.read(path, within);
  };
}

/** The same for what is found in files: of all that have been looked at, and of how many there are. */
export const roomForFound: RoomForFound = (found, files) =>
  watchRoom(() => {
    const all = [...found()];
    return tooMuchFound(all.flat(), all.length, files());
  });

function mustHaveRoom(says: () => string): void {
  const isAbove = (ofOld: number, ofAll: number) =>
    v8.getHeapStatistics().used_heap_size > ofOld * forOld() || process.memoryUsage.rss() > ofAll * inAll();
  if (!isAbove(much, muchInAll)) return;
  collect();
  if (isAbove(tooMuch, tooMuchInAll)) throw new CannotRun(says());
}

/** Has the engine let go of what nobody needs any more. */
function collect(): void {
  v8.setFlagsFromString('--expose-gc');
  const gc: unknown = vm.runInNewContext('gc');
  // As it was: the engine takes back nothing that it compiled under other switches.
  v8.setFlagsFromString('--no-expose-gc');
  if (typeof gc === 'function') gc();
}

/** What helps besides. The engine takes half of what a container has, and at most 4 GB. */
const more = (): string =>
  inAll() < 2.5 * v8.getHeapStatistics().heap_size_limit
    ? 'or give the container more memory'
    : 'or give it more memory (`NODE_OPTIONS=--max-old-space-size=8000`, MB)';

/** Of a library that cannot even be read: not beyond so many files. */
const tooManyFiles = (files: number | null): string =>
  `${files === null ? 'This library' : `A library of ${files} files or more`} does not fit into memory. Make two of it, ${more()}.`;

/** Of one of so many shares. */
export const tooMuchInShare = (of: number): string =>
  `What is found in a share of ${of} does not fit into memory. Make more shares, ${more()}.`;

/** Of a library of which nobody can be told everything. */
function tooMuchFound(found: Iterable<Finding>, looked: number, files: number): string {
  const counts = new Map<string, { readonly first: Finding; count: number }>();
  let all = 0;
  for (const finding of found) {
    all++;
    const known = counts.get(finding.rule);
    if (known) known.count++;
    else counts.set(finding.rule, { first: finding, count: 1 });
  }
  // It is not what is found that takes the room.
  if (all < looked) return tooManyFiles(files);
  const [most] = [...counts.values()].sort((a, b) => b.count - a.count);
  const place = most && placeOf(most.first.span.file, most.first.span.start);
  const example = most && place ? `\nMost are like ${most.first.span.file.path}:${place.line}:${place.column} ${most.first.message}` : '';
  return `What is found in this library does not fit into memory: ${all} findings in ${looked} of ${files} files. Mend first what most of them lack, check a share of it (\`--shard 1/8\`), ${more()}.${example}`;
}
