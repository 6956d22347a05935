import { didYouMean, thereAre } from '../findings/suggest.js';
import { fileOf, type JobDocument } from '../library/document.js';
import type { Library } from '../library/library.js';
import { kindWords } from '../schema/lookup.js';
import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';
import { absolute } from './root.js';

/** Jobs by id, file or folder, an id first; all jobs of the library where none is named. */
export function jobsNamed(library: Library, names: readonly string[]): JobDocument[] {
  const folders = names.filter((name) => !library.jobs.has(name) && realWorld.kindOf(absolute(name)) === 'folder');
  if (names.length === 0 || folders.length === names.length) {
    const within = [...library.jobs.values()].filter(
      (job) => folders.length === 0 || folders.some((folder) => `${library.root}/${fileOf(job).path}`.startsWith(`${absolute(folder)}/`)),
    );
    if (within.length === 0)
      throw new CannotRun(
        `There is no job order in ${folders[0] ?? library.root} that can be read. Make one with \`baywright new job ID\`, or see \`baywright check\`.`,
      );
    return within;
  }
  return names.map((name) => {
    const place = absolute(name);
    const file = library.files.find((one) => `${library.root}/${one.file.path}` === place);
    const inFile = file && library.standing.includes(file) && file.card?.kind === 'job' ? file.card.id : name;
    const job = library.jobs.get(name) ?? library.jobs.get(inFile);
    if (job) return job;
    if (file)
      throw new CannotRun(
        file.card
          ? `${name} is a ${kindWords[file.card.kind]}, and not a job order.`
          : `${name} cannot be read as a job order; \`baywright check ${name}\` says why.`,
      );
    throw new CannotRun(
      `There is no job \`${name}\` in ${library.root}.${didYouMean(name, library.jobs.keys())} ${thereAre(library.jobs.keys())}`,
    );
  });
}
