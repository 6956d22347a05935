import { momentWords, sectionWords } from '../words/en.js';
import { moments, type Section } from '../plan/plan.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, heading, inset, paragraph } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { sizes } from './style.js';
import { workingsPage } from './workings.js';
import { closingPage } from './closing-page.js';
import { firstPage } from './first-page.js';
import { stepBlocks } from './step-block.js';

export interface BaySheetOptions {
  /** With the workings of the computed numbers at the end. */
  readonly workings: boolean;
}

/** The bay sheet: before you touch it, the steps, and the closing of the ledger. */
export function baySheet(job: CompiledJob, measure: Measure, options: BaySheetOptions = { workings: false }): Paper {
  const width = contentWidth(job.shop.paper);
  const blocks = [
    ...firstPage(job, measure, width),
    ...steps(job, measure, width),
    ...closingPage(job, measure, width),
    ...(options.workings ? workingsPage(job, measure, width) : []),
  ];
  return {
    title: `Bay sheet, job ${job.number}`,
    subject: job.work.map((one) => one.name).join('; '),
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'BAY SHEET', { ledger: true, internal: true })),
  };
}

function steps(job: CompiledJob, measure: Measure, width: number): Block[] {
  const blocks: Block[] = [];
  let section: Section | null = null;
  let moment: string | null = null;
  let document = '';
  for (const step of job.steps) {
    if (step.section !== section) {
      section = step.section;
      blocks.push(heading(measure, sectionWords[section], width, { newPage: section !== 'final', running: true }));
      document = '';
    }
    if (step.moment !== moment) {
      moment = step.moment;
      const words = moments.find((one) => one === moment);
      if (words)
        blocks.push({
          ...inset(paragraph(measure, momentWords[words], width, { size: sizes.step + 1, weight: 'bold' }), 0, 6, 4),
          keepWithNext: true,
        });
    }
    if (step.document !== document) {
      document = step.document;
      const owner = job.documents.find((one) => one.id === document);
      blocks.push({
        ...inset(
          paragraph(measure, `${owner?.name ?? document}${owner?.revision ? `  (rev. ${owner.revision})` : ''}`, width, {
            size: sizes.small,
            weight: 'semibold',
          }),
          0,
          3,
          4,
        ),
        keepWithNext: true,
      });
    }
    blocks.push(...stepBlocks(measure, job, step, width));
  }
  return blocks;
}
