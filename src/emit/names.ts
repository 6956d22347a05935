/** What is made of every job, by the names of the files, in the order in which it is made. */
export const paperNames = ['bay-sheet', 'torque-card', 'fluids-sheet', 'tool-list', 'parts-list', 'quote'] as const;
export type EveryPaper = (typeof paperNames)[number];

/** What paper is made as: pages to print, a page for a screen, or both. */
export const paperFormats = ['pdf', 'html', 'both'] as const;
export type PaperFormat = (typeof paperFormats)[number];

/** The papers of a job: those of every job, and what is made of some. */
export type PaperName = EveryPaper | 'bay-sheet-recorded' | `hand-over-tag-${number}`;

const others: ReadonlySet<string> = new Set(['job.html', 'quote.html', 'parts-list.csv', 'job.json']);

/**
 * Whether a file of this name is made anew, or goes, when a job is built again. The sheet as it was ticked and filled is
 * a record of work that was done: it stays until another is made.
 */
export const isMadeAnew = (name: string): boolean =>
  others.has(name) || paperNames.some((paper) => name === `${paper}.pdf`) || /^hand-over-tag-\d+\.pdf$/.test(name);
