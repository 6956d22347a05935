/** The papers of a job, by the names of their files. */
export type PaperName = (typeof paperNames)[number] | `hand-over-tag-${number}`;

const paperNames = ['bay-sheet', 'bay-sheet-recorded', 'torque-card', 'fluids-sheet', 'tool-list', 'parts-list', 'quote'] as const;

const others: ReadonlySet<string> = new Set(['job.html', 'quote.html', 'parts-list.csv', 'job.json']);

/** Whether a build makes a file of this name. */
export const isOutput = (name: string): boolean =>
  others.has(name) || paperNames.some((paper) => name === `${paper}.pdf`) || /^hand-over-tag-\d+\.pdf$/.test(name);
