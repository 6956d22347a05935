import type { Charge, CompiledJob, Fluid } from '../schema/generated/compiled-job.js';
import { type Block, blank, blankWidthOf, flow, heading, paragraph, smallStyle, space, strongStyle, table } from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';

/** What comes out of each circuit and what goes in, with the table of mixtures, so that nobody needs a computer in the bay. */
export function fluidsSheet(job: CompiledJob, measure: Measure): Paper {
  const width = contentWidth(job.shop.paper);
  const blocks = [
    ...job.fluids.flatMap((fluid) => circuit(measure, fluid, width)),
    ...job.charges.flatMap((charge) => byMass(measure, charge, width)),
  ];
  if (blocks.length === 0) blocks.push(paragraph(measure, 'This job drains and fills nothing.', width));
  if (job.waste.length > 0)
    blocks.push(
      heading(measure, 'Waste', width),
      ...table(
        measure,
        [
          { title: 'what', share: 3.4 },
          { title: 'class', share: 1.6 },
          { title: 'expected', share: 1.6 },
          { title: 'vessel', share: 1.2 },
          { title: 'to', share: 1.4 },
          { title: 'really', share: 1.6 },
        ],
        job.waste.map((one) => [one.name, one.code ?? '', `${one.amount} ${one.unit}`, one.vessel ?? '', one.to ?? '', '________']),
        width,
      ),
    );
  return {
    title: `Fluids sheet, job ${job.number}`,
    subject: job.vehicle.name,
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'FLUIDS SHEET', { ledger: false, internal: true })),
  };
}

const row = (measure: Measure, blanks: readonly (readonly [label: string, unit: string])[], width: number): Block =>
  flow(
    blanks.map(([label, unit]) => ({ width: blankWidthOf(measure, label, unit), block: blank(measure, label, unit) })),
    width,
    8,
  );

function circuit(measure: Measure, fluid: Fluid, width: number): Block[] {
  const { mix } = fluid;
  const blocks: Block[] = [heading(measure, `${fluid.name}${fluid.spec ? `, ${fluid.spec}` : ''}`, width)];
  if (fluid.through.length > 0)
    blocks.push(
      paragraph(
        measure,
        `Holds ${fluid.capacity} L. Through ${fluid.through.join(' and ')} ${fluid.drained} L come out${fluid.tolerance ? ` (${fluid.tolerance})` : ''}; ${fluid.residue} L stay in.`,
        width,
      ),
    );
  blocks.push(
    space(3),
    row(
      measure,
      [
        [`${fluid.blanks.recovered} recovered`, 'L'],
        ...(mix ? [['strength before', '%'] as const] : []),
        [`${fluid.blanks.poured} poured`, 'L'],
        ...(mix ? [['strength after', '%'] as const] : []),
      ],
      width,
    ),
    space(4),
  );
  if (mix) {
    blocks.push(
      paragraph(
        measure,
        `Litres of concentrate / water for ${mix.target} %${mix.range ? ` (${mix.range})` : ''}${mix.protects ? `, which protects to ${mix.protects}` : ''}:`,
        width,
        strongStyle,
      ),
      ...table(
        measure,
        [{ title: 'drained', share: 1.3 }, ...mix.table.strengths.map((strength) => ({ title: `${strength} % before`, share: 1.6 }))],
        mix.table.rows.map((one) => [`${one.drained} L`, ...one.cells]),
        width,
      ),
    );
    if (mix.readyMix)
      blocks.push(
        paragraph(
          measure,
          `Ready mixture of ${mix.readyMix.strength} % would make ${mix.readyMix.gives} %${mix.readyMix.inRange ? '' : ', outside the range'}.`,
          width,
          smallStyle,
        ),
      );
  } else
    blocks.push(
      paragraph(
        measure,
        `Pour ${fluid.pour} L${fluid.rounds > 1 ? ` in ${fluid.rounds} changes` : ''}: what came out, then by the level.`,
        width,
        strongStyle,
      ),
    );
  if (fluid.shares.length > 0)
    blocks.push(paragraph(measure, `New fluid after each change: ${fluid.shares.map((share) => `${share} %`).join(', ')}.`, width));
  if (fluid.level) blocks.push(paragraph(measure, `Level: ${fluid.level}`, width));
  return [...blocks, space(10)];
}

function byMass(measure: Measure, charge: Charge, width: number): Block[] {
  return [
    heading(measure, `${charge.name}${charge.spec ? `, ${charge.spec}` : ''}`, width),
    paragraph(
      measure,
      `Charge ${charge.charge}${charge.lost ? `; ${charge.lost} were missing (${charge.lostShare} %)` : ''}${charge.bottle ? `; bottle ledger ${charge.bottle} g` : ''}.`,
      width,
    ),
    ...(charge.oil
      ? [
          paragraph(
            measure,
            `Oil${charge.oil.spec ? ` ${charge.oil.spec}` : ''}: ${charge.oil.total} mL (${charge.oil.recovered} came out, ${charge.oil.parts} for new parts).`,
            width,
            strongStyle,
          ),
        ]
      : []),
    space(3),
    row(
      measure,
      [
        [`${charge.blanks.recovered} recovered`, 'g'],
        [`${charge.blanks.charged} charged`, 'g'],
        ['bottle before', 'g'],
        ['bottle after', 'g'],
      ],
      width,
    ),
    space(10),
  ];
}
