import { didYouMeanOf, listed } from '../findings/suggest.js';
import { fileOf, type JobDocument, type LibraryFile } from '../library/document.js';
import { couldNotBeRead, fileAt, type Library } from '../library/library.js';
import { liesIn } from '../library/root.js';
import { once } from '../once.js';
import { kindWords } from '../schema/lookup.js';
import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';
import { absolute, hidden } from './root.js';

/** Jobs by id, file, folder or the number on their paper, an id first, each once; all jobs of the library where none is named. */
export function jobsNamed(library: Library, names: readonly string[]): JobDocument[] {
  const isFolder = (name: string) => !library.jobs.has(name) && realWorld.kindOf(absolute(name)) === 'folder';
  const named = names.flatMap((name) => (isFolder(name) ? jobsIn(library, absolute(name)) : [jobNamed(library, name)]));
  return names.length === 0 ? jobsIn(library, library.root) : [...new Set(named)];
}

function jobsIn(library: Library, folder: string): JobDocument[] {
  const within = [...library.jobs.values()].filter((job) => liesIn(`${library.root}/${fileOf(job).path}`, folder));
  if (within.length === 0)
    throw new CannotRun(
      `There is no job order in ${folder} that can be read.${couldNotBeRead(library)} Make one with \`baywright new job ID\`, or see \`baywright check\`.`,
    );
  return within;
}

function jobNamed(library: Library, name: string): JobDocument {
  const place = absolute(name);
  const file = liesIn(place, library.root) ? fileAt(library, place.slice(library.root.length).replace(/^\//, '')) : undefined;
  const job = library.jobs.get(name) ?? jobIn(library, file);
  if (job) return job;
  if (file) throw new CannotRun(whyNoJob(name, file));
  if (realWorld.isHidden(place)) throw hidden(name);
  const [numbered, ...more] = once(numbers, library, () => idsByNumber(library)).get(name) ?? [];
  if (numbered !== undefined && more.length > 0)
    throw new CannotRun(`Several jobs have the number ${name}: ${listed([numbered, ...more], 'and')}. Name one by its id.`);
  const byNumber = library.jobs.get(numbered ?? '');
  if (byNumber) return byNumber;
  throw new CannotRun(
    `There is no job \`${name}\` in ${library.root}.${couldNotBeRead(library)}${didYouMeanOf(name, library.jobs.keys())}`,
  );
}

/** Ids of jobs by the number on their paper. */
const numbers = new WeakMap<Library, ReadonlyMap<string, readonly string[]>>();

function idsByNumber({ standing }: Library): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const { card } of standing) if (card?.number !== undefined) once(found, card.number, () => []).push(card.id);
  return found;
}

function jobIn(library: Library, file: LibraryFile | undefined): JobDocument | undefined {
  const job = file?.card?.kind === 'job' ? library.jobs.get(file.card.id) : undefined;
  return job && fileOf(job).path === file?.file.path ? job : undefined;
}

function whyNoJob(name: string, { card }: LibraryFile): string {
  if (card === null) return `${name} cannot be read as a job order; \`baywright check ${name}\` says why.`;
  if (card.kind !== 'job') return `${name} is a ${kindWords[card.kind]}, and not a job order.`;
  return `${name} has the id of another job order, \`${card.id}\`. Give one of the two another id, or delete it.`;
}
