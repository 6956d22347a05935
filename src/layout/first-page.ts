import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, framed, heading, inset, paragraph, smallStyle, space, stack, strongStyle, table } from './blocks.js';
import type { Measure } from './page.js';
import { rule, sizes } from './style.js';
import { tickRows } from './step-block.js';

/** Page one, before you touch it: what to confirm, what can hurt, what to fetch, where to stop, how long it takes. */
export function firstPage(job: CompiledJob, measure: Measure, width: number): Block[] {
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
  // What takes no time of its own is part of the step before it; only what occupies somebody or the bay is a row.
  const rows = schedule.rows
    .filter((row) => row.done > row.start)
    .map((row) => [
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

/** Minutes as hours and minutes, rounded before they are split: 59.6 min is 1:00. */
function clock(minutes: number): string {
  const whole = Math.round(minutes);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

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
