import { momentWords, sectionWords } from '../words/en.js';
import { moments, type Section } from '../plan/plan.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import {
  type Block,
  blank,
  blankWidthOf,
  flow,
  framed,
  heading,
  inset,
  paragraph,
  plainStyle,
  smallStyle,
  space,
  stack,
  strongStyle,
  table,
  tick,
} from './blocks.js';
import { jobFurniture } from './furniture.js';
import type { Measure, Paper } from './page.js';
import { contentWidth, paginate } from './paginate.js';
import { box, rule, sizes } from './style.js';
import { workingsPage } from './workings.js';
import { stepBlocks, tickRows } from './step-block.js';

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
    ...lastPage(job, measure, width),
    ...(options.workings ? workingsPage(job, measure, width) : []),
  ];
  return {
    title: `Bay sheet, job ${job.number}`,
    subject: job.work.map((one) => one.name).join('; '),
    language: job.shop.locale,
    pages: paginate(blocks, job.shop.paper, jobFurniture(job, measure, 'BAY SHEET', { ledger: true, internal: true })),
  };
}

function firstPage(job: CompiledJob, measure: Measure, width: number): Block[] {
  const { vehicle, order } = job;
  const big = [vehicle.plate, vehicle.unit ? `unit ${vehicle.unit}` : null, vehicle.vin ? `VIN …${vehicle.vin.slice(-8)}` : null]
    .filter((part) => part !== null)
    .join(' · ');
  const lines: Block[] = [
    paragraph(measure, big || job.id, width, { size: sizes.plate, weight: 'bold' }),
    paragraph(
      measure,
      [
        vehicle.name,
        vehicle.revision ? `profile rev. ${vehicle.revision}` : null,
        ...job.pinned.map((one) => `${one.feature}: ${one.value}`),
        vehicle.odometer,
      ]
        .filter((part) => part !== null)
        .join(' · '),
      width,
      strongStyle,
    ),
    paragraph(measure, `Work: ${job.work.map((one) => one.name).join('; ')}`, width, { size: sizes.step, weight: 'bold' }),
  ];
  if (order.complaint) lines.push(paragraph(measure, `Complaint: ${order.complaint}`, width));
  if (order.confirmed) lines.push(paragraph(measure, `Confirmed by: ${order.confirmed}`, width));
  const who = [
    order.technician ? `technician ${order.technician}` : null,
    order.checker ? `second person ${order.checker}` : null,
    job.promised ? `promised for ${job.promised}` : null,
  ]
    .filter((part) => part !== null)
    .join(' · ');
  if (who) lines.push(paragraph(measure, who, width, smallStyle));
  const blocks: Block[] = [stack(lines, 3), space(6)];
  blocks.push(
    framed(
      stack(
        [
          paragraph(measure, 'Confirm at the vehicle. If anything differs: STOP, get a new sheet.', width - 16, strongStyle),
          ...tickRows(measure, confirmations(job), width - 16, 1),
        ],
        5,
      ),
      width,
      8,
      rule.heavy,
    ),
    space(6),
  );
  blocks.push(...openFindings(job, measure, width));
  blocks.push(...dangers(job, measure, width));
  const fresh = newEveryTime(job);
  if (fresh.length > 0)
    blocks.push(heading(measure, 'New: on the bench before you begin', width), ...tickRows(measure, fresh, width, 3), space(4));
  blocks.push(heading(measure, 'Fetch', width), ...tickRows(measure, toolWords(job), width, 2), space(4));
  if (job.fluids.length > 0)
    blocks.push(heading(measure, 'Fluids', width), ...job.fluids.map((fluid) => paragraph(measure, fluidWords(fluid), width)), space(4));
  if (job.codes.length > 0)
    blocks.push(
      heading(measure, 'Codes of the parts', width),
      ...tickRows(
        measure,
        job.codes.map((one) => `${one.part.replaceAll('-', ' ')}: ${one.code}`),
        width,
        2,
      ),
      space(4),
    );
  const holds = job.steps.flatMap((step) =>
    [
      step.secondPerson ? `${step.secondPerson.code} at step ${step.n}: second person, ${step.secondPerson.look}` : null,
      step.authority ? `${step.authority.code} at step ${step.n}: ask the customer, ${step.authority.why}` : null,
    ].filter((part) => part !== null),
  );
  if (holds.length > 0) blocks.push(heading(measure, 'Stops', width), ...holds.map((text) => paragraph(measure, text, width)), space(4));
  blocks.push(...timeBlocks(job, measure, width));
  blocks.push(
    space(6),
    paragraph(
      measure,
      'The vehicle maker’s current information and local law come first. Refrigerant, high voltage, airbags, gas and brakes are for those licensed or trained for them. This sheet proves the written procedure, never the hand that ticks.',
      width,
      smallStyle,
    ),
  );
  return blocks;
}

/** Errors of a draft, and what was allowed with a reason: nobody works from this without having read it. */
function openFindings(job: CompiledJob, measure: Measure, width: number): Block[] {
  const framedList = (title: string, texts: readonly string[]): Block[] =>
    texts.length === 0
      ? []
      : [
          framed(
            stack(
              [
                paragraph(measure, title, width - 12, strongStyle),
                ...texts.map((text) => paragraph(measure, text, width - 12, smallStyle)),
              ],
              2,
            ),
            width,
            6,
            rule.heavy,
          ),
          space(6),
        ];
  const open = job.allowed.filter((one) => one.reason === null);
  const allowed = job.allowed.filter((one) => one.reason !== null);
  return [
    ...framedList(
      'DRAFT. These errors are open:',
      open.map((one) => `${one.place} ${one.rule}: ${one.message}`),
    ),
    ...framedList(
      'Allowed with a reason:',
      allowed.map((one) => `${one.place} ${one.rule}: ${one.message} Reason: ${one.reason}`),
    ),
  ];
}

/** Hours, what passes by itself, and who does what when: the shortest order of the operations. */
function timeBlocks(job: CompiledJob, measure: Measure, width: number): Block[] {
  const { schedule, billed } = job.labour;
  const unattended = job.steps.filter((step) => step.unattended).map((step) => `step ${step.n} ${step.unattended}`);
  const pairs = job.steps.filter((step) => step.people > 1).map((step) => step.n);
  const words = [
    `${Number(Number(billed).toFixed(2))} h of work`,
    schedule && schedule.length > 0
      ? `in the bay ${clock(schedule.length)} h with ${schedule.technicians === 1 ? 'one person' : `${schedule.technicians} persons`}${schedule.technicians > 1 ? ` (${clock(schedule.alone)} h alone)` : ''}`
      : null,
    unattended.length > 0 ? `by itself: ${unattended.join(', ')}` : null,
    pairs.length > 0 ? `two persons at step ${pairs.join(', ')}` : null,
  ].filter((part) => part !== null);
  const blocks = [heading(measure, 'Time', width), paragraph(measure, `${words.join('; ')}.`, width)];
  // With one person the steps are the order; a table of who does what is for two.
  if (!schedule || schedule.technicians < 2) return blocks;
  const rows = schedule.rows.map((row) => [
    `${clock(row.start)} to ${clock(row.end)}${row.done > row.end ? `, by itself to ${clock(row.done)}` : ''}`,
    row.says,
    row.by.map((person) => String.fromCharCode(64 + person)).join(' and '),
  ]);
  const columns = [
    { title: 'hours from the start', share: 2.6 },
    { title: 'operation', share: 5 },
    { title: 'who', share: 1 },
  ];
  return [...blocks, space(3), ...table(measure, columns, rows, width, smallStyle)];
}

/** Minutes as hours and minutes. */
const clock = (minutes: number): string => `${Math.floor(minutes / 60)}:${String(Math.round(minutes) % 60).padStart(2, '0')}`;

function confirmations(job: CompiledJob): string[] {
  const { vehicle } = job;
  return [
    [
      vehicle.plate ? `plate ${vehicle.plate}` : null,
      vehicle.vin ? `VIN ${vehicle.vin}` : null,
      vehicle.odometer ? `odometer ${vehicle.odometer}` : null,
    ]
      .filter((part) => part !== null)
      .join(', ') || 'vehicle as named above',
    ...job.pinned.map((one) => `${one.feature} is ${one.value}. ${one.tell} (${one.by})`),
  ];
}

function dangers(job: CompiledJob, measure: Measure, width: number): Block[] {
  const found = job.steps.flatMap((step) =>
    step.cautions.filter((one) => one.signal !== 'NOTICE').map((one) => `${one.signal}, step ${step.n}: ${one.text}`),
  );
  const wear = [...new Set(job.steps.flatMap((step) => step.wear))].map((one) => one.replaceAll('-', ' '));
  if (found.length === 0 && wear.length === 0) return [];
  return [
    heading(measure, 'What can hurt', width),
    ...found.map((text) => inset(paragraph(measure, text, width), 0, 0, 2)),
    ...(wear.length > 0 ? [paragraph(measure, `Protective equipment: ${wear.join(', ')}.`, width, strongStyle)] : []),
    space(4),
  ];
}

const newEveryTime = (job: CompiledJob): string[] =>
  job.parts.demand.map((one) => `${one.count} × ${one.name}${one.choice ? ` (by ${one.choice})` : ''}`);

function toolWords(job: CompiledJob): string[] {
  const torque = job.tools.torque.map(
    (tool) => `${tool.id}, ${tool.range}${tool.due ? `, calibration due ${tool.due}` : ''}; if another: ______`,
  );
  const special = job.tools.special.map(
    (tool) => `${tool.pieces > 1 ? `${tool.pieces} × ` : ''}${tool.name}${tool.drawer ? ` (${tool.drawer})` : ''}`,
  );
  return [...special, ...torque, ...(job.tools.drives.length > 0 ? [`sockets and keys: ${job.tools.drives.join(', ')}`] : [])];
}

function fluidWords(fluid: CompiledJob['fluids'][number]): string {
  const mix = fluid.mix
    ? `${Number(fluid.mix.concentrate).toFixed(2)} L concentrate + ${Number(fluid.mix.water).toFixed(2)} L water`
    : `${fluid.pour} L`;
  return `${fluid.name}${fluid.spec ? ` ${fluid.spec}` : ''}: ${mix}; out ${fluid.recovered} L.`;
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

function lastPage(job: CompiledJob, measure: Measure, width: number): Block[] {
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
