import { didYouMean, oneOf } from '../findings/suggest.js';
import { fileOf, type JobDocument } from '../library/document.js';
import type { Library } from '../library/library.js';
import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';
import { absolute } from './root.js';

/** Jobs by id or by file; all jobs of the library where none is named. */
export function jobsNamed(library: Library, names: readonly string[]): JobDocument[] {
  const all = [...library.jobs.values()];
  const folders = names.filter((name) => realWorld.kindOf(absolute(name)) === 'folder');
  if (names.length === 0 || folders.length === names.length) {
    const within =
      folders.length === 0
        ? all
        : all.filter((job) => folders.some((folder) => `${library.root}/${fileOf(job).path}`.startsWith(`${absolute(folder)}/`)));
    if (within.length === 0)
      throw new CannotRun(
        `There is no job order in ${folders[0] ?? library.root} that can be read. Make one with \`baywright new job ID\`, or see \`baywright check\`.`,
      );
    return within;
  }
  return names.map((name) => {
    const job = library.jobs.get(name) ?? all.find((one) => `${library.root}/${fileOf(one).path}` === absolute(name));
    if (job) return job;
    const broken = library.files.find((file) => `${library.root}/${file.file.path}` === absolute(name));
    if (broken)
      throw new CannotRun(
        broken.document
          ? `${name} is a ${broken.document.kind}, and not a job order.`
          : `${name} cannot be read as a job order; \`baywright check ${name}\` says why.`,
      );
    throw new CannotRun(
      `There is no job \`${name}\` in ${library.root}.${didYouMean(name, library.jobs.keys())} There are ${oneOf(library.jobs.keys())}.`,
    );
  });
}
