import { moments, type Section } from '../plan/plan.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, inset, paragraph, smallStyle, space } from './blocks.js';
import { closingPage } from './closing-page.js';
import { firstPage } from './first-page.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { type Setting, settingOf } from './setting.js';
import { stepBlocks } from './step-block.js';
import { sizes } from './style.js';
import { workingsPage } from './workings.js';

export interface BaySheetOptions {
  /** With the workings of the computed numbers at the end. */
  readonly workings: boolean;
  /** What a record leaves open, where the sheet is printed as it was filled in. */
  readonly leftOpen?: readonly string[];
}

/** The bay sheet: before you touch it, the steps, and the closing of the ledger. */
export function baySheet(job: CompiledJob, measure: Measure, options: BaySheetOptions = { workings: false }): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const blocks = [
    ...firstPage(job, set, width),
    ...steps(job, set, width),
    ...closingPage(job, set, width),
    ...(options.workings ? workingsPage(job, set, width) : []),
    ...(options.leftOpen ? leftOpenPage(options.leftOpen, set, width) : []),
  ];
  return paperOf(job, set, 'bay-sheet', blocks, { ledger: true, subject: job.work.map((one) => one.name).join('; ') });
}

function leftOpenPage(open: readonly string[], set: Setting, width: number): Block[] {
  const { record } = set.words;
  return [
    { ...heading(set, record.title, width, { newPage: true, running: true }), step: null },
    paragraph(set, open.length > 0 ? record.intro : record.nothing, width, smallStyle),
    space(6),
    ...open.flatMap((one) => [paragraph(set, one, width), space(4)]),
  ];
}

function steps(job: CompiledJob, set: Setting, width: number): Block[] {
  const { words } = set;
  const blocks: Block[] = [];
  let section: Section | null = null;
  let moment: string | null = null;
  let document = '';
  const runs = job.steps.some((step) => step.moment === 'running' && engineVerbs.has(step.verb));
  const within = (text: string, size: number, weight: 'semibold' | 'bold', above: number): Block => ({
    ...inset(paragraph(set, text, width, { size, weight }), 0, above, 4),
    keepWithNext: true,
  });
  for (const step of job.steps) {
    if (step.section !== section) {
      section = step.section;
      blocks.push(heading(set, words.sections[section], width, { newPage: section !== 'final', running: true }));
      document = '';
    }
    if (step.moment !== moment) {
      moment = step.moment;
      const known = moments.find((one) => one === moment);
      const says = known === 'running' && !runs ? words.ignitionOn : known && words.moments[known];
      if (says) blocks.push(within(says, sizes.step + 1, 'bold', 6));
    }
    if (step.document !== document) {
      document = step.document;
      const owner = job.documents.find((one) => one.id === document);
      const revision = owner?.revision ? `  (${words.head.revision(owner.revision)})` : '';
      blocks.push(within(`${owner?.name ?? document}${revision}`, sizes.small, 'semibold', 3));
    }
    blocks.push(...stepBlocks(set, job, step, width));
  }
  return blocks;
}

/** With any of these the engine runs. */
const engineVerbs: ReadonlySet<string> = new Set(['start', 'run', 'crank']);
