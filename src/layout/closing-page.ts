import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Blank, type Block, blanks, flow, heading, paragraph, smallStyle, space, stack, strongStyle } from './blocks.js';
import { table, tick, tickBlock, tickLine } from './rows.js';
import { element } from './page.js';
import { beside, massUnitOf, unitOf } from './amounts.js';
import type { Setting } from './setting.js';
import { sourcesBlocks } from './sources.js';
import { box } from './style.js';
import { codesOf, eachCounts } from './times.js';

/** The end of the sheet: the ledger closed line by line, what is kept, signatures, and the slip to tear off. */
export function closingPage(job: CompiledJob, set: Setting, width: number): Block[] {
  const { closing } = set.words;
  const { ledger } = job;
  const half = width / 2;
  return [
    { ...heading(set, closing.title, width, { newPage: true }), running: closing.title },
    paragraph(set, closing.counts(ledger.opened, ledger.closed, ledger.gates), width, strongStyle),
    space(4),
    ...ledgerTable(job, set, width),
    space(8),
    { ...heading(set, closing.kept, width), running: null },
    blanks(set, keptBlanks(job, set), width, 6),
    space(6),
    ...wasteTable(job, set, width),
    ...sourcesBlocks(job, set, width),
    ...testedAgain(job, set, width),
    flow(
      [
        ...(job.parts.buy.length > 0 ? [{ width: half, block: tickLine(set, 'closing/parts-shown', closing.partsShown, half) }] : []),
        { width: half, block: tickLine(set, 'closing/nothing-left', closing.nothingLeft, half - 6) },
      ],
      width,
    ),
    space(6),
    blanks(set, signatures(job, set), width, 6),
    ...slip(job, set, width),
  ];
}

/** What confirmed the complaint is done again: by the same test it must be gone. */
function testedAgain({ order }: CompiledJob, set: Setting, width: number): Block[] {
  if (!order.confirmed) return [];
  return [tickLine(set, 'closing/tested-again', set.words.closing.testedAgain(order.confirmed), width), space(3)];
}

/** Every line of the ledger, in two banks beside each other. */
function ledgerTable(job: CompiledJob, set: Setting, width: number): Block[] {
  const { closing } = set.words;
  const { lines } = job.ledger;
  if (lines.length === 0) return [];
  const rows = Math.ceil(lines.length / 2);
  const named = new Map<string, number>();
  for (const { name } of lines) named.set(name, (named.get(name) ?? 0) + 1);
  // Of one thing several may be true, as of an axle that is raised and supported.
  const what = ({ name, verb, temporary }: (typeof lines)[number]): string => {
    const done = set.words.done[verb];
    if (temporary) return closing.temporary(done);
    return done && (named.get(name) ?? 0) > 1 ? `, ${done}` : '';
  };
  const cell = (index: number): (string | Block)[] => {
    const line = lines[index];
    if (!line) return ['', '', ''];
    const closed = line.closed ?? (line.stays ? closing.stays(line.stays) : closing.open);
    return [
      `${line.name}${line.count && line.count > 1 ? ` (${line.count})` : ''}${what(line)}`,
      `${line.opened} → ${closed}`,
      tickBlock(`ledger/${index + 1}`, closing.closed(line.name)),
    ];
  };
  const columns = [
    { title: closing.columns.what, share: 5 },
    { title: closing.columns.step, share: 2.4 },
    { title: closing.columns.seen, share: 1.1 },
  ];
  const both = Array.from({ length: rows }, (_, index) => [...cell(index), ...cell(index + rows)]);
  return table(set, [...columns, ...columns], both, width, smallStyle);
}

type Named = readonly [key: string, label: string];

/** What the vehicle is read by: its odometer, or the hour meter of a machine; both, where the order says both. */
function meters({ vehicle }: CompiledJob, [odometer, distance]: Named, [hourMeter, hours]: Named): Blank[] {
  const { odometer: driven, hours: run, distanceUnit } = vehicle;
  return [
    ...(driven !== null || run === null ? [{ key: odometer, label: distance, unit: distanceUnit }] : []),
    ...(run === null ? [] : [{ key: hourMeter, label: hours, unit: 'h' }]),
  ];
}

function keptBlanks(job: CompiledJob, set: Setting): Blank[] {
  const { closing } = set.words;
  const each = (code: string, unit: string): Blank[] => codesOf(job, code).map((one) => ({ key: one, label: one, unit }));
  return [
    // Where each of several readings counts, none of them stands for all.
    ...job.measurements.flatMap((one) => (one.points > 1 && eachCounts(one) ? [] : each(one.code, one.unit))),
    ...job.fluids.flatMap((fluid) => [fluid.blanks.recovered, fluid.blanks.poured].flatMap((code) => each(code, unitOf(fluid)))),
    ...job.charges.flatMap((charge) => [charge.blanks.recovered, charge.blanks.charged].flatMap((code) => each(code, massUnitOf(charge)))),
    ...meters(job, ['odometer-out', closing.odometerOut], ['hours-out', closing.hourMeterOut]),
    { key: 'road-test', label: closing.roadTest, unit: job.vehicle.distanceUnit },
  ];
}

function wasteTable(job: CompiledJob, set: Setting, width: number): Block[] {
  if (job.waste.length === 0) return [];
  const { wasteColumns: titles } = set.words.closing;
  const columns = [
    { title: titles.waste, share: 4 },
    { title: titles.class, share: 2 },
    { title: titles.expected, share: 2 },
    { title: titles.to, share: 2 },
    { title: titles.measured, share: 2.4 },
  ];
  return [
    ...table(
      set,
      columns,
      wasteRows(job, set, (one) => [one.to ?? '']),
      width,
    ),
    space(6),
  ];
}

/** A row a waste class, with a blank for what was measured. */
export function wasteRows(job: CompiledJob, set: Setting, middle: (one: CompiledJob['waste'][number]) => string[]): (string | Block)[][] {
  return job.waste.map((one) => {
    const unit = set.words.unit[one.unit] ?? one.unit;
    const amount = `${one.amount} ${unit}`;
    const key = `waste/${one.class}`;
    const measured = blanks(set, [{ key, label: '', unit: '', width: 50, says: one.name }], 60);
    return [
      one.name,
      one.code ?? '',
      one.inShopUnit === undefined ? set.figure(amount) : beside(set, one.inShopUnit.replaceAll(' ', '\u00a0'), amount),
      ...middle(one),
      measured,
    ];
  });
}

function signatures(job: CompiledJob, set: Setting): Blank[] {
  const { closing } = set.words;
  const sign = (key: string, label: string): Blank => ({ key: `signed/${key}`, label, width: 90 });
  return [
    sign('done', closing.doneBy),
    ...job.steps.flatMap((step) => (step.secondPerson ? [sign(step.secondPerson.code, closing.secondPerson(step.secondPerson.code))] : [])),
    sign('released', closing.releasedBy),
  ];
}

/** What is due after the job, to tear off. */
function slip(job: CompiledJob, set: Setting, width: number): Block[] {
  if (job.followUps.length === 0) return [];
  const { closing } = set.words;
  const blocks: Block[] = [
    space(10),
    { ...cutLine(width), keepWithNext: true },
    heading(set, closing.after(job.vehicle.plate ?? job.vehicle.name, job.number), width),
  ];
  for (const [index, one] of job.followUps.entries()) {
    const key = `after/${index + 1}`;
    const boxes = Array.from({ length: one.boxes }, (_, n) => tick(`${key}/${n + 1}`, `${one.what} ${n + 1}`, n * (box.side + box.gap), 0));
    const written: Blank[] = [
      { key: `${key}/done-by`, label: closing.doneBy },
      { key: `${key}/tool`, label: closing.tool },
      ...meters(job, [`${key}/odometer`, closing.odometer], [`${key}/hours`, closing.hourMeter]),
    ];
    blocks.push(
      stack(
        [
          paragraph(set, closing.due(one.what, set.figure(one.due).replace(/\d{4}-\d\d-\d\d/, set.date)), width, strongStyle),
          { height: box.side, pieces: [element('Div', boxes, { look: 'boxes' })] },
          blanks(set, written, width),
          space(6),
        ],
        4,
      ),
    );
  }
  return blocks;
}

const cutLine = (width: number): Block => ({
  height: 6,
  pieces: [{ kind: 'line', x: 0, y: 2, toX: width, toY: 2, width: 0.8, dash: true }],
});
