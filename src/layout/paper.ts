import type { CompiledJob } from '../schema/generated/compiled-job.js';
import type { Block } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Paper } from './page.js';
import { paginate } from './paginate.js';
import type { Setting } from './setting.js';

/** The papers of a job. */
export type PaperName = keyof Setting['words']['paper'];

/**
 * Blocks as one of the papers of a job, on pages with head and foot.
 * @param options what differs between papers: whether pages say what is open, whether the customer gets it, a title of its own
 */
export function paperOf(
  job: CompiledJob,
  set: Setting,
  name: PaperName,
  blocks: readonly Block[],
  options: { readonly ledger?: boolean; readonly forCustomer?: boolean; readonly subject?: string; readonly title?: string } = {},
): Paper {
  const { words } = set;
  const title = words.paper[name];
  const furniture = jobFurniture(job, set, title, { ledger: options.ledger ?? false, internal: !options.forCustomer });
  return {
    title: options.title ?? words.title(title, job.number),
    subject: options.subject ?? job.vehicle.name,
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, furniture, words.head.continued),
    content: blocks.flatMap((block) => block.pieces),
  };
}
