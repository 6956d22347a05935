import { didYouMeanOf } from '../findings/suggest.js';
import { type EveryPaper, isMadeAnew, paperNames } from '../emit/names.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { realWorld } from '../world/real.js';
import { CannotRun } from '../world/world.js';

/** Papers by their names, as they were asked for: one by one, or several with commas. */
export function papersNamed(names: readonly string[]): readonly EveryPaper[] {
  const each = names.flatMap((name) => name.split(',')).map((name) => name.trim());
  return each.map((name) => {
    const paper = paperNames.find((one) => one === name);
    if (paper) return paper;
    throw new CannotRun(`There is no paper \`${name}\`.${didYouMeanOf(name, paperNames)}`);
  });
}

/**
 * Whether a file of an earlier build goes from the folder of a job. Where only some papers are made, the others stay if
 * they were made of this very version of the job: paper of two versions never lies in one folder. (What is there is looked
 * at when the first name is asked for: before, another build may be at it.)
 */
export function goesFrom(folder: string, job: CompiledJob, papers: readonly EveryPaper[] | undefined): (name: string) => boolean {
  if (papers === undefined) return isMadeAnew;
  let isThisVersion: boolean | undefined;
  return (name) => {
    isThisVersion ??= digestIn(`${folder}/job.json`) === job.digest;
    return isMadeAnew(name) && !isThisVersion;
  };
}

function digestIn(file: string): unknown {
  if (realWorld.kindOf(file) !== 'file') return undefined;
  try {
    return (JSON.parse(realWorld.readLarge(file) ?? 'null') as { readonly digest?: unknown } | null)?.digest;
  } catch {
    return undefined;
  }
}
