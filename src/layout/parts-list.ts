import type { CompiledJob, Purchase } from '../schema/generated/compiled-job.js';
import { type Block, heading, paragraph, smallStyle, space, strongStyle, table, tick } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { box } from './style.js';

/** The parts list for the counter: by bin, with what a kit contains, what to hold, and what is left over. */
export function partsList(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const { parts } = job;
  const blocks: Block[] = [];
  const rows = (purchases: readonly Purchase[]) => purchaseTable(measure, purchases, width);
  if (parts.buy.length > 0)
    blocks.push(
      heading(measure, 'Parts', width),
      ...rows(parts.buy),
      paragraph(measure, `Parts ${job.shop.currency} ${parts.total}`, width, strongStyle),
      space(6),
    );
  else blocks.push(paragraph(measure, 'This job needs no parts.', width), space(6));
  const held = parts.buy.filter((one) => one.hold.length > 0);
  if (held.length > 0) {
    blocks.push(heading(measure, 'Hold until it is measured', width));
    for (const one of held)
      blocks.push(
        paragraph(
          measure,
          `${one.number} is expected; hold ${one.hold.join(' and ')} beside it until ${job.choices.map((choice) => `${choice.code} (${choice.name})`).join(', ')} is known. Then the others go back.`,
          width,
        ),
      );
    blocks.push(space(6));
  }
  if (parts.fluids.length > 0)
    blocks.push(
      heading(measure, 'Fluids by container', width),
      ...rows(parts.fluids),
      paragraph(measure, `Fluids ${job.shop.currency} ${parts.fluidTotal}`, width, strongStyle),
      space(6),
    );
  const left = [...parts.leftovers, ...parts.fluidLeftovers];
  if (left.length > 0)
    blocks.push(
      heading(measure, 'Left over: back to stock', width),
      ...left.map((one) => paragraph(measure, `${one.amount} ${one.name}`, width)),
      space(6),
    );
  blocks.push(
    heading(measure, 'What it is for', width),
    ...table(
      measure,
      [
        { title: 'item', share: 4 },
        { title: 'pieces', share: 1, right: true },
        { title: 'for', share: 5 },
      ],
      parts.demand.map((one) => [one.name, String(one.count), one.for.join(', ')]),
      width,
      smallStyle,
    ),
  );
  return {
    title: `Parts list, job ${job.number}`,
    subject: job.vehicle.name,
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'PARTS LIST', { ledger: false, internal: true })),
  };
}

function purchaseTable(measure: Measure, purchases: readonly Purchase[], width: number): Block[] {
  const boxed: Block = { height: box.side, marks: [tick(4, 0)] };
  return table(
    measure,
    [
      { title: 'bin', share: 0.9 },
      { title: 'number', share: 2.1 },
      { title: 'pieces', share: 1.1, right: true },
      { title: 'what, with contents', share: 5 },
      { title: 'amount', share: 1.4, right: true },
      { title: 'ordered', share: 1.5 },
      { title: 'here', share: 1 },
      { title: 'bench', share: 1.1 },
      { title: 'back', share: 1 },
    ],
    purchases.map((one) => [one.bin ?? '', one.number, String(one.count), describe(one), one.amount, boxed, boxed, boxed, boxed]),
    width,
    smallStyle,
  );
}

const describe = (one: Purchase): string =>
  `${one.name}${one.contains.length > 1 ? `: ${one.contains.map((item) => `${item.amount} ${item.name}`).join(', ')}` : ''}${one.core ? ` (deposit ${one.core} each on the old part)` : ''}`;
