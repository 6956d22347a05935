import { baySheet, type BaySheetOptions } from '../layout/bay-sheet.js';
import { fluidsSheet } from '../layout/fluids-sheet.js';
import { handOverTag } from '../layout/hand-over-tag.js';
import type { Paper } from '../layout/page.js';
import { partsList } from '../layout/parts-list.js';
import { quotePaper } from '../layout/quote.js';
import { toolList } from '../layout/tool-list.js';
import { torqueCard } from '../layout/torque-card.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { partsListCsv } from './csv/parts-list.js';
import type { Faces } from './pdf/fonts.js';
import { pdfOf } from './pdf/pdf.js';

export interface OutputOptions extends BaySheetOptions {
  /** A step after which work stops: its hand-over tag is made too. */
  readonly after: number | null;
}

/** Every output of a job, by file name, made from the compiled job alone. */
export async function outputsOf(job: CompiledJob, faces: Faces, options: OutputOptions): Promise<Map<string, Uint8Array | string>> {
  const info = { date: job.date, author: job.shop.name, keywords: `${job.id} ${job.digest}` };
  const json = `${JSON.stringify(job, null, 2)}\n`;
  const pdf = (paper: Paper) => pdfOf(paper, faces, info);
  // What works from the sheet may read the job in it; the quote goes to the customer and carries nothing.
  const withJob = (paper: Paper) =>
    pdfOf(paper, faces, { ...info, attachment: { name: 'job.json', text: json, says: `The compiled job ${job.id}` } });
  return new Map<string, Uint8Array | string>([
    ['bay-sheet.pdf', await withJob(baySheet(job, faces.measure, options))],
    ['torque-card.pdf', await withJob(torqueCard(job, faces.measure))],
    ['fluids-sheet.pdf', await pdf(fluidsSheet(job, faces.measure))],
    ['tool-list.pdf', await pdf(toolList(job, faces.measure))],
    ...(options.after === null
      ? []
      : [[`hand-over-tag-${options.after}.pdf`, await pdf(handOverTag(job, faces.measure, options.after))] as const]),
    ['parts-list.pdf', await pdf(partsList(job, faces.measure))],
    ['parts-list.csv', partsListCsv(job)],
    ['quote.pdf', await pdf(quotePaper(job, faces.measure))],
    ['job.json', json],
  ]);
}
