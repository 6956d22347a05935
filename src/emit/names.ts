/** The papers of a job, by the names of their files. */
export type PaperName = (typeof paperNames)[number] | 'bay-sheet-recorded' | `hand-over-tag-${number}`;

const paperNames = ['bay-sheet', 'torque-card', 'fluids-sheet', 'tool-list', 'parts-list', 'quote'] as const;

const others: ReadonlySet<string> = new Set(['job.html', 'quote.html', 'parts-list.csv', 'job.json']);

/**
 * Whether a file of this name is made anew, or goes, when a job is built again. The sheet as it was ticked and filled is
 * a record of work that was done: it stays until another is made.
 */
export const isMadeAnew = (name: string): boolean =>
  others.has(name) || paperNames.some((paper) => name === `${paper}.pdf`) || /^hand-over-tag-\d+\.pdf$/.test(name);
