import type { Bled, CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, framed, inset, paragraph, section, smallStyle, space, stack, strongStyle } from './blocks.js';
import { table, tickRows } from './rows.js';
import { mixture, volume } from './amounts.js';
import { spelt } from './characters.js';
import { numberEnd } from './furniture.js';
import type { Setting } from './setting.js';
import { rule, sizes } from './style.js';

const present = (parts: readonly (string | null)[]): string[] => parts.filter((part) => part !== null);

/** Page one, before you touch it: what to confirm, what can hurt, what to fetch, where to stop, how long it takes. */
export function firstPage(job: CompiledJob, set: Setting, width: number): Block[] {
  const { first } = set.words;
  const blocks: Block[] = [{ ...stack(identity(job, set, width), 3), running: null }, space(6)];
  const confirm = tickRows(set, keyed('confirm', confirmations(job, set)), width - 16, 1);
  blocks.push(
    framed(stack([paragraph(set, first.confirm, width - 16, strongStyle), ...confirm], 5), width, 8, rule.heavy),
    space(6),
    ...openFindings(job, set, width),
    ...dangers(job, set, width),
  );
  const list = (title: string, rows: readonly Block[]) => {
    if (rows.length > 0) blocks.push(...section(set, title, width, rows, 4));
  };
  list(first.fresh, tickRows(set, keyed('new', newEveryTime(job, set)), width, 3));
  list(first.fetch, tickRows(set, keyed('fetch', toolWords(job, set)), width, 2));
  list(
    first.fluids,
    [...job.fluids.map((fluid) => fluidWords(set, fluid)), ...job.bled.map((one) => bleedingWords(set, one))].map((one) =>
      paragraph(set, one, width),
    ),
  );
  const codes = job.codes.map((one) => `${one.part.replaceAll('-', ' ')}: ${one.code}`);
  list(first.codes, tickRows(set, keyed('code', codes), width, 2));
  const holds = job.steps.flatMap((step) =>
    present([
      step.secondPerson ? first.hold(step.secondPerson.code, step.n, step.secondPerson.look) : null,
      step.authority ? first.ask(step.authority.code, step.n, step.authority.why) : null,
    ]),
  );
  list(
    first.stops,
    holds.map((text) => paragraph(set, text, width)),
  );
  blocks.push(...section(set, first.time, width, timeBlocks(job, set, width), 6), paragraph(set, first.defers, width, smallStyle));
  return blocks;
}

const keyed = (kind: string, texts: readonly string[]) => texts.map((text, index) => ({ key: `${kind}/${index + 1}`, text }));

/** Whose vehicle it is, what it is, and what is wanted. */
function identity(job: CompiledJob, set: Setting, width: number): Block[] {
  const { vehicle, order } = job;
  const { first, head } = set.words;
  const big = present([vehicle.plate, vehicle.unit ? head.unit(vehicle.unit) : null, numberEnd(vehicle, set.words)]);
  const facts = present([
    vehicle.name,
    vehicle.revision ? first.profile(vehicle.revision) : null,
    ...job.pinned.map((one) => `${one.feature}: ${one.value}`),
    vehicle.odometer ? set.figure(vehicle.odometer) : null,
    vehicle.hours ? set.figure(vehicle.hours) : null,
  ]);
  const who = present([
    order.technician ? first.technician(order.technician) : null,
    order.checker ? first.secondPerson(order.checker) : null,
    job.promised ? first.promised(set.date(job.promised)) : null,
  ]);
  return [
    paragraph(set, big.join(' · ') || job.id, width, { size: sizes.plate, weight: 'bold' }),
    paragraph(set, facts.join(' · '), width, strongStyle),
    paragraph(set, first.work(job.work.map((one) => one.name).join('; ')), width, { size: sizes.step, weight: 'bold' }),
    ...(order.complaint ? [paragraph(set, first.complaint(order.complaint), width)] : []),
    ...(order.confirmed ? [paragraph(set, first.confirmedBy(order.confirmed), width)] : []),
    ...(who.length > 0 ? [paragraph(set, who.join(' · '), width, smallStyle)] : []),
  ];
}

/** Errors of a draft, and what was allowed with a reason: nobody works from this without having read it. */
function openFindings(job: CompiledJob, set: Setting, width: number): Block[] {
  const { first } = set.words;
  const framedList = (title: string, texts: readonly string[]): Block[] => {
    if (texts.length === 0) return [];
    const lines = texts.map((text) => paragraph(set, text, width - 12, smallStyle));
    return [framed(stack([paragraph(set, title, width - 12, strongStyle), ...lines], 2), width, 6, rule.heavy), space(6)];
  };
  const open = job.allowed.filter((one) => one.reason === null);
  return [
    ...framedList(
      first.draftErrors,
      open.map((one) => `${spelt(one.place)} ${one.rule}: ${spelt(one.message)}`),
    ),
    ...framedList(
      first.allowed,
      job.allowed.flatMap((one) =>
        one.reason === null ? [] : [`${spelt(one.place)} ${one.rule}: ${spelt(one.message)} ${first.reason(one.reason)}`],
      ),
    ),
  ];
}

/** Hours, what passes by itself, and who does what when: the shortest order of the operations. */
function timeBlocks(job: CompiledJob, set: Setting, width: number): Block[] {
  const { schedule, billed } = job.labour;
  const { first } = set.words;
  const unattended = job.steps.flatMap((step) => (step.unattended ? [first.step(step.n, set.figure(step.unattended))] : []));
  const pairs = job.steps.filter((step) => step.people > 1).map((step) => step.n);
  const bay =
    schedule && schedule.length > 0
      ? `${first.inBay(clock(schedule.length), schedule.technicians)}${schedule.technicians > 1 ? ` ${first.alone(clock(schedule.alone))}` : ''}`
      : null;
  const words = present([
    first.hours(set.figure(String(Number(Number(billed).toFixed(2))))),
    bay,
    unattended.length > 0 ? first.byItself(unattended.join(', ')) : null,
    pairs.length > 0 ? first.pairs(pairs.join(', ')) : null,
  ]);
  const sum = paragraph(set, `${words.join('; ')}.`, width);
  // With one person the steps are the order; a table of who does what is for two.
  if (!schedule || schedule.technicians < 2) return [sum];
  // What takes no time of its own is part of the step before it; only what occupies somebody or the bay is a row.
  const rows = schedule.rows
    .filter((row) => row.done > row.start)
    .map((row) => [
      `${first.slot(clock(row.start), clock(row.end))}${row.done > row.end ? first.slotByItself(clock(row.done)) : ''}`,
      row.says,
      first.both(row.by.map((person) => String.fromCharCode(64 + person))),
    ]);
  const columns = [
    { title: first.columns.hours, share: 2.6 },
    { title: first.columns.operation, share: 5 },
    { title: first.columns.who, share: 1 },
  ];
  // The heading goes to the next page with a table that does not fit below it.
  return [...[sum, space(3)].map((block) => ({ ...block, keepWithNext: true })), ...table(set, columns, rows, width, smallStyle)];
}

/** Minutes as hours and minutes, rounded before they are split: 59.6 min is 1:00. */
function clock(minutes: number): string {
  const whole = Math.round(minutes);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

function confirmations(job: CompiledJob, set: Setting): string[] {
  const { vehicle } = job;
  const { first } = set.words;
  const named = present([
    vehicle.plate ? first.plate(vehicle.plate) : null,
    vehicle.vin ? first.vin(vehicle.vin) : null,
    vehicle.serial ? first.serial(vehicle.serial) : null,
    vehicle.built ? first.built(vehicle.built) : null,
    vehicle.odometer ? first.odometer(set.figure(vehicle.odometer)) : null,
    vehicle.hours ? first.hourMeter(set.figure(vehicle.hours)) : null,
  ]);
  return [
    named.join(', ') || first.vehicle,
    ...job.pinned.map((one) => `${first.feature(one.feature, one.value)} ${one.tell} (${one.by})`),
  ];
}

function dangers(job: CompiledJob, set: Setting, width: number): Block[] {
  const { first, signals, wear } = set.words;
  // What is said at several steps is said once here, with all of them.
  const byText = new Map<string, { signal: keyof typeof signals; text: string; steps: number[] }>();
  for (const step of job.steps)
    for (const { signal, text } of step.cautions) {
      if (signal === 'NOTICE') continue;
      const key = `${signal} ${text}`;
      const known = byText.get(key) ?? { signal, text, steps: [] };
      known.steps.push(step.n);
      byText.set(key, known);
    }
  const found = [...byText.values()].map(({ signal, text, steps }) => first.danger(signals[signal], steps, text));
  const worn = [...new Set(job.steps.flatMap((step) => step.wear))].map((one) => wear[one] ?? one.replaceAll('-', ' '));
  if (found.length === 0 && worn.length === 0) return [];
  return section(
    set,
    first.dangers,
    width,
    [
      ...found.map((text) => inset(paragraph(set, text, width), 0, 0, 2)),
      ...(worn.length > 0 ? [paragraph(set, first.protection(worn.join(', ')), width, strongStyle)] : []),
    ],
    4,
  );
}

const newEveryTime = (job: CompiledJob, set: Setting): string[] =>
  job.parts.demand.map((one) => `${one.count} × ${one.name}${one.choice ? ` ${set.words.first.byChoice(one.choice)}` : ''}`);

function toolWords(job: CompiledJob, set: Setting): string[] {
  const { first } = set.words;
  const torque = job.tools.torque.map(
    (tool) =>
      `${tool.id}, ${set.figure(tool.range)}${tool.due ? `, ${first.calibrationDue(set.date(tool.due))}` : ''}; ${first.otherTool}: ______`,
  );
  const special = job.tools.special.map(
    (tool) => `${tool.pieces > 1 ? `${tool.pieces} × ` : ''}${tool.name}${tool.drawer ? ` (${tool.drawer})` : ''}`,
  );
  return [...special, ...torque, ...(job.tools.drives.length > 0 ? [first.sockets(job.tools.drives.map(set.words.drive).join(', '))] : [])];
}

/** What bleeding takes, with its specification. */
const bleedingWords = (set: Setting, { name, spec, amount }: Bled): string =>
  set.words.first.fluidBleeding(`${name}${spec ? ` ${spec}` : ''}`, set.figure(amount));

function fluidWords(set: Setting, fluid: CompiledJob['fluids'][number]): string {
  const { first } = set.words;
  const name = `${fluid.name}${fluid.spec ? ` ${fluid.spec}` : ''}`;
  const out = volume(set, fluid, fluid.recovered, fluid.inShopUnit?.recovered);
  if (fluid.pouredBack) return first.fluidBack(name, out);
  const pour = fluid.mix ? mixture(set, fluid, fluid.mix) : volume(set, fluid, fluid.pour, fluid.inShopUnit?.pour);
  return fluid.rounds > 1 && !fluid.mix ? first.fluidInChanges(name, pour, out, fluid.rounds) : first.fluid(name, pour, out);
}
