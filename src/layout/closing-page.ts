import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, blank, blankWidthOf, flow, heading, paragraph, plainStyle, space, stack, strongStyle, table, tick } from './blocks.js';
import type { Measure } from './page.js';
import { box, sizes } from './style.js';

/** The end of the sheet: the ledger closed line by line, what is kept, signatures, and the slip to tear off. */
export function closingPage(job: CompiledJob, measure: Measure, width: number): Block[] {
  const blocks: Block[] = [{ ...heading(measure, 'Closing the ledger', width, { newPage: true }), running: 'Closing the ledger' }];
  const { ledger } = job;
  blocks.push(
    paragraph(
      measure,
      `${ledger.opened} opened, ${ledger.closed} closed, ${ledger.opened - ledger.closed} left open; ${ledger.gates} gates on the way. Tick what you have seen closed.`,
      width,
      strongStyle,
    ),
    space(4),
  );
  const half = Math.ceil(ledger.lines.length / 2);
  const cell = (index: number): (string | Block)[] => {
    const line = ledger.lines[index];
    if (!line) return ['', '', ''];
    return [
      `${line.name}${line.count && line.count > 1 ? ` (${line.count})` : ''}${line.temporary ? ', in / out' : ''}`,
      `${line.opened} → ${line.closed ?? (line.stays ? `stays: ${line.stays}` : 'OPEN')}`,
      { height: box.side, marks: [tick(0, 0)] },
    ];
  };
  const columns = [
    { title: 'what', share: 5 },
    { title: 'step', share: 2.4 },
    { title: '', share: 1 },
  ];
  blocks.push(
    ...table(
      measure,
      [...columns, ...columns],
      Array.from({ length: half }, (_, index) => [...cell(index), ...cell(index + half)]),
      width,
      { size: sizes.small, weight: 'regular' },
    ),
  );
  blocks.push(space(8), { ...heading(measure, 'Kept for the record', width), running: null });
  const fields = [
    ...job.measurements.map((one) => ({ label: one.code, unit: one.unit })),
    ...job.fluids.flatMap((fluid) => [
      { label: fluid.blanks.recovered, unit: 'L' },
      { label: fluid.blanks.poured, unit: 'L' },
    ]),
    { label: 'odometer out', unit: 'km' },
    { label: 'road test', unit: 'km' },
  ];
  blocks.push(
    flow(
      fields.map((field) => ({ width: blankWidthOf(measure, field.label, field.unit), block: blank(measure, field.label, field.unit) })),
      width,
      6,
    ),
    space(6),
  );
  if (job.waste.length > 0)
    blocks.push(
      ...table(
        measure,
        [
          { title: 'waste', share: 4 },
          { title: 'class', share: 2 },
          { title: 'expected', share: 2 },
          { title: 'to', share: 2 },
          { title: 'measured', share: 2 },
        ],
        job.waste.map((one) => [one.name, one.code ?? '', `${one.amount} ${one.unit}`, one.to ?? '', '______']),
        width,
      ),
      space(6),
    );
  blocks.push(
    flow(
      [
        { width: width / 2, block: beforeTick(measure, 'old parts shown to the customer', width / 2) },
        { width: width / 2, block: beforeTick(measure, 'nothing left in the vehicle: tools and pieces counted', width / 2 - 6) },
      ],
      width,
    ),
    space(6),
  );
  const signs = [
    'done by',
    ...job.steps.flatMap((step) => (step.secondPerson ? [`${step.secondPerson.code} second person`] : [])),
    'released by',
  ];
  blocks.push(
    flow(
      signs.map((label) => ({ width: blankWidthOf(measure, label, '', 90), block: blank(measure, label, '', 90) })),
      width,
      6,
    ),
  );
  if (job.followUps.length > 0) {
    blocks.push(
      space(10),
      { ...cutLine(width), keepWithNext: true },
      { ...heading(measure, `After this job: ${job.vehicle.plate ?? job.vehicle.name}, job ${job.number}`, width) },
    );
    for (const one of job.followUps) {
      const boxes: Block = {
        height: box.side,
        marks: Array.from({ length: one.boxes }, (_, index) => tick(index * (box.side + box.gap), 0)),
      };
      blocks.push(
        stack(
          [
            paragraph(measure, `${one.what}, due ${one.due}`, width, { ...plainStyle, weight: 'semibold' }),
            boxes,
            flow(
              ['done by', 'tool', 'odometer'].map((label) => ({
                width: blankWidthOf(measure, label, ''),
                block: blank(measure, label, ''),
              })),
              width,
            ),
            space(6),
          ],
          4,
        ),
      );
    }
  }
  return blocks;
}

const cutLine = (width: number): Block => ({
  height: 6,
  marks: [{ kind: 'line', x: 0, y: 2, toX: width, toY: 2, width: 0.8, dash: true }],
});

function beforeTick(measure: Measure, text: string, width: number): Block {
  const words = paragraph(measure, text, width - box.side - 8);
  return {
    height: Math.max(words.height, box.side),
    marks: [tick(0, 0), ...words.marks.map((mark) => (mark.kind === 'text' ? { ...mark, x: mark.x + box.side + 5, y: mark.y + 2 } : mark))],
  };
}
