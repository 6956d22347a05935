import { type CheckedFor, checkFor } from '../compile.js';
import type { JobDocument } from '../library/document.js';
import { Checker } from '../rules/checker.js';
import { type Listing, listingOf } from './kept.js';
import { type Opened, openKnown } from './known-files.js';
import { libraryAt } from './root.js';

/**
 * Loads the library that a path lies in; the current folder where none is named.
 * @param listing its files, where they are known already
 */
export function openLibrary(from: string | undefined, listing: Listing | null = null): Opened {
  const root = libraryAt(from);
  return openKnown(root, listing ?? listingOf({ folder: root, alone: false }));
}

/** What is found for some jobs, of what an earlier run did not know; what is found out now is kept for the next. */
export function checkForJobs(
  { library, earlier, wasKept, isWorthKeepingAgain, keep }: Opened,
  jobs: readonly JobDocument[],
): (job: JobDocument) => CheckedFor {
  const checker = new Checker(earlier);
  const checked = checkFor(library, jobs, checker);
  if (checker.hasLooked || !wasKept || isWorthKeepingAgain) keep(checker.now);
  return checked;
}
