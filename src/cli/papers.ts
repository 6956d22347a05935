import { didYouMeanOf } from '../findings/suggest.js';
import { type EveryPaper, isMadeAnew, paperNames } from '../emit/names.js';
import { realWorld } from '../world/real.js';
import { CannotRun, type ReadResult } from '../world/world.js';

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
 * @param json the job as it is written now
 */
export function goesFrom(folder: string, json: unknown, papers: readonly EveryPaper[] | undefined): (name: string) => boolean {
  if (papers === undefined) return isMadeAnew;
  let isThisVersion: boolean | undefined;
  return (name) => {
    const file = `${folder}/job.json`;
    isThisVersion ??= realWorld.kindOf(file) === 'file' && isSame(realWorld.readLarge(file), json);
    return isMadeAnew(name) && !isThisVersion;
  };
}

const isSame = (read: ReadResult, text: unknown): boolean => read.ok && read.text === text;
