import { baySheet, type BaySheetOptions } from '../layout/bay-sheet.js';
import { fluidsSheet } from '../layout/fluids-sheet.js';
import { handOverTag } from '../layout/hand-over-tag.js';
import { leftOpen } from '../layout/left-open.js';
import type { Measure, Paper } from '../layout/page.js';
import { partsList } from '../layout/parts-list.js';
import { type JobRecord, recorded } from '../layout/recorded.js';
import { quotePaper } from '../layout/quote.js';
import { settingOf } from '../layout/setting.js';
import { toolList } from '../layout/tool-list.js';
import { torqueCard } from '../layout/torque-card.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { once } from '../once.js';
import { languageOf, wordsOf } from '../words/words.js';
import { partsListCsv } from './csv/parts-list.js';
import { htmlOf } from './html/html.js';
import type { Faces } from './pdf/fonts.js';
import { type EveryPaper, type PaperFormat, type PaperName, paperNames } from './names.js';
import { pdfOf } from './pdf/pdf.js';

export interface OutputOptions extends BaySheetOptions {
  readonly format: PaperFormat;
  /** Of what is made of every job, these alone. */
  readonly papers?: readonly EveryPaper[];
  /** A step after which work stops: its hand-over tag is made too. */
  readonly after: number | null;
  /** What was ticked and written on a screen: the sheet with it is made too. */
  readonly record?: JobRecord;
}

/** A paper with its file name, and who gets it. */
interface Named {
  readonly name: PaperName;
  readonly paper: Paper;
  /** Whoever works from it may read the job in it; the quote goes to the customer and carries nothing. */
  readonly withJob?: boolean;
  readonly forCustomer?: boolean;
}

/** What is printed of a job: each laid out when its turn comes, so that none is kept longer than it is needed. */
export function* papersOf(job: CompiledJob, measure: Measure, options: OutputOptions): Generator<Named> {
  const { after, record, papers = paperNames } = options;
  const wanted = new Set(papers);
  if (wanted.has('bay-sheet')) yield { name: 'bay-sheet', paper: baySheet(job, measure, options), withJob: true };
  if (record) yield { name: 'bay-sheet-recorded', paper: recordedSheet(job, measure, record) };
  if (wanted.has('torque-card')) yield { name: 'torque-card', paper: torqueCard(job, measure), withJob: true };
  if (wanted.has('fluids-sheet')) yield { name: 'fluids-sheet', paper: fluidsSheet(job, measure) };
  if (wanted.has('tool-list')) yield { name: 'tool-list', paper: toolList(job, measure) };
  if (after !== null) yield { name: `hand-over-tag-${after}`, paper: handOverTag(job, measure, after) };
  if (wanted.has('parts-list')) yield { name: 'parts-list', paper: partsList(job, measure) };
  if (wanted.has('quote')) yield { name: 'quote', paper: quotePaper(job, measure), forCustomer: true };
}

/** What a record of a job leaves open, in the words of its sheet. */
export const leftOpenIn = (job: CompiledJob, measure: Measure, record: JobRecord): readonly string[] =>
  once(
    once(known, record, () => new WeakMap()),
    job,
    () => leftOpen(job, baySheet(job, measure), record, settingOf(job, measure)),
  );

/** Found out once: it is printed, and said at the prompt. */
const known = new WeakMap<JobRecord, WeakMap<CompiledJob, readonly string[]>>();

function recordedSheet(job: CompiledJob, measure: Measure, record: JobRecord): Paper {
  const open = leftOpenIn(job, measure, record);
  const paper = recorded(baySheet(job, measure, { workings: false, leftOpen: open }), record, measure);
  return { ...paper, title: wordsOf(languageOf(job.shop.language)).recorded(paper.title) };
}

/** Every output of a job, by file name, made from the compiled job alone. */
export function outputsOf(job: CompiledJob, faces: Faces, options: OutputOptions): Map<string, Uint8Array | string> {
  const info = { date: job.date, author: job.shop.name, keywords: `${job.id} ${job.digest}` };
  const json = `${JSON.stringify(job, null, 2)}\n`;
  const attachment = { name: 'job.json', text: json, says: `The compiled job ${job.id}` };
  const outputs = new Map<string, Uint8Array | string>();
  const papers: Named[] = [];
  for (const one of papersOf(job, faces.measure, options)) {
    if (options.format !== 'html') outputs.set(`${one.name}.pdf`, pdfOf(one.paper, faces, one.withJob ? { ...info, attachment } : info));
    if (options.format !== 'pdf') papers.push(one);
  }
  if (options.format !== 'pdf') {
    const { head } = wordsOf(languageOf(job.shop.language));
    // What was recorded on a screen goes back to paper only.
    const internal = papers.filter((one) => !one.forCustomer && one.name !== 'bay-sheet-recorded');
    if (internal.length > 0)
      outputs.set('job.html', htmlOf(job, `${head.job(job.number)}: ${job.work.map((one) => one.name).join('; ')}`, internal));
    for (const one of papers.filter((one) => one.forCustomer)) outputs.set(`${one.name}.html`, htmlOf(job, one.paper.title, [one]));
  }
  if (options.papers?.includes('parts-list') ?? true) outputs.set('parts-list.csv', partsListCsv(job));
  outputs.set('job.json', json);
  return outputs;
}
