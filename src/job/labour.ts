import type { Decimal } from 'decimal.js';
import { fileOf, type WorkDocument } from '../library/document.js';
import { isShipped } from '../library/library.js';
import { once } from '../once.js';
import { minutesAlone } from '../plan/alone.js';
import { castOf } from '../plan/cast.js';
import { neededBy, wantedOf } from '../plan/needs.js';
import type { Participant, PlanStep } from '../plan/plan.js';
import { didYouMean } from '../findings/suggest.js';
import { inUnit, numberIn } from '../quantity/quantity.js';
import { D } from '../quantity/units.js';
import { criticalPath, type Schedule, shortestSchedule, type Task } from '../resolve/labour/schedule.js';
import { sum } from '../resolve/price/money.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import type { Needs } from '../schema/generated/types.js';
import { isWhole } from '../library/written.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import { listWith } from '../words/list.js';
import type { JobContext } from './context.js';
import { plainNumber, quantityText } from './format.js';
import { type Find, findWords, foundIn } from './perhaps.js';

interface Operation {
  readonly id: string;
  readonly says: string;
  readonly hours: Decimal;
  readonly factor: Decimal | null;
  readonly reason: string | null;
  readonly unattended: string | null;
  readonly grade: string;
  /** Minutes. */
  readonly passive: number;
  readonly people: number;
  readonly alone: number | null;
  /** Operations that must be over before, by id. */
  readonly after: readonly string[];
}

export interface CompiledLabour {
  readonly labour: CompiledJob['labour'];
  readonly billed: Decimal;
  readonly saved: Decimal;
  /** Hours billed by grade. */
  readonly byGrade: ReadonlyMap<string, Decimal>;
}

/** Hours of the merged plan: each operation once, however many works need it. */
export function compileLabour(context: JobContext): CompiledLabour {
  const untimed: (readonly [string, string])[] = [];
  const found = foundIn(context).flatMap((one) => operationFor(context, one));
  const operations = [...context.plan.participants.flatMap((one) => operationsOf(context, one, untimed)), ...found];
  if (untimed.length > 0) reportUntimed(context, untimed);
  for (const one of context.plan.participants) tellWaits(context, one, operations);
  const handsOf = (one: Operation) => one.hours.times(one.people);
  const billedOf = (one: Operation) => handsOf(one).times(one.factor ?? 1);
  const together = sum(operations.map(handsOf));
  const billed = sum(operations.map(billedOf));
  const alone = context.job.work.map((work, _, all) => {
    const wanted = wantedOf(work, context.library);
    if (all.length === 1) return { work: wanted.id, hours: together };
    const { members } = castOf(context.library, { work: [wanted], vehicle: context.vehicle });
    return { work: wanted.id, hours: sum(members.flatMap(({ participant }) => operationsOf(context, participant)).map(handsOf)) };
  });
  const apart = sum([...alone.map((one) => one.hours), ...(context.job.work.length > 1 ? found.map(handsOf) : [])]);
  const byGrade = new Map<string, Decimal>();
  for (const one of operations) byGrade.set(one.grade, (byGrade.get(one.grade) ?? new D(0)).plus(billedOf(one)));
  context.working(() => ({
    of: 'labour/billed',
    formula: 'sum of the operations, each once, times its factor',
    inputs: operations.map((one) => ({
      name: one.id,
      value: `${plainNumber(one.hours, 4)} h${one.people > 1 ? ` × ${one.people} persons` : ''}${one.factor ? ` × ${one.factor}` : ''}`,
      from: one.says,
    })),
    result: `${plainNumber(billed, 4)} h`,
    rounding: null,
  }));
  return {
    billed,
    saved: D.max(apart.minus(together), 0),
    byGrade,
    labour: {
      operations: operations.map((one) => ({
        id: one.id,
        says: one.says,
        hours: plainNumber(one.hours, 4),
        factor: one.factor?.toString() ?? null,
        reason: one.reason,
        billed: plainNumber(billedOf(one), 4),
        unattended: one.unattended,
        grade: one.grade,
      })),
      apart: plainNumber(apart, 4),
      together: plainNumber(together, 4),
      billed: plainNumber(billed, 4),
      alone: alone.map((one) => ({ work: one.work, hours: plainNumber(one.hours, 4) })),
      schedule: compileSchedule(context, operations),
    },
  };
}

/** Tells of all of them at once, with what to write. */
function reportUntimed(context: JobContext, untimed: readonly (readonly [document: string, operation: string])[]): void {
  const byDocument = new Map<string, string[]>();
  for (const [document, name] of untimed) once(byDocument, document, () => []).push(name);
  const times = [...byDocument].map(([document, names]) => `${document}: { ${names.map((name) => `${name}: 0.2 h`).join(', ')} }`);
  const names = untimed.map(([document, name]) => `\`${document}/${name}\``);
  context.report(
    'labour/no-time',
    `Nobody says how long ${listWith('and')(names)} ${names.length > 1 ? 'take' : 'takes'} on this vehicle. Add \`times: { ${times.join(', ')} }\` to ${fileOf(context.vehicle).path}, with its own times; until then ${names.length > 1 ? 'they are' : 'it is'} not billed.`,
    spanOf(context.job, 'vehicle'),
    'warning',
  );
}

/** What nobody counts on and is no longer than this makes no promise wrong, min. */
const noMatter = 30;

/** Tells where the steps of a document wait much longer than its labour says: the vehicle would be promised too early. */
function tellWaits(context: JobContext, participant: Participant, operations: readonly Operation[]): void {
  const { document } = participant;
  const waiting = context.plan.steps.filter((step) => step.participant === participant && !step.conditional && minutesAlone(step) > 0);
  const longest = waiting.reduce<PlanStep | null>((most, step) => (most && minutesAlone(most) >= minutesAlone(step) ? most : step), null);
  const all = waiting.reduce((minutes, step) => minutes + minutesAlone(step), 0);
  const own = new Set(operationsIn(document));
  const said = operations.reduce((minutes, { id, passive }) => minutes + (own.has(id) ? passive : 0), 0);
  // Of a shipped preparation nobody here writes the labour.
  if (!longest || all - said <= noMatter || isDamaged(document) || isShipped(document)) return;
  context.report(
    'labour/waits-unsaid',
    `The steps of \`${document.id}\` take ${Math.round(all)} min by themselves, and its \`labour:\` counts ${said === 0 ? 'none' : `${Math.round(said)}`} of them: the vehicle would be promised too early. Write \`unattended: ${Math.round(all)} min\` at its operation, or as much as nothing else can be done in.`,
    spanOf(longest.step, longest.verb),
    'warning',
  );
}

const operationId = (document: WorkDocument, name: string): string => `${document.id}/${name}`;

/** The operations of a document, as a job names them: `clutch/seals`. */
export const operationsIn = (document: WorkDocument): string[] =>
  Object.keys(document.labour ?? {}).map((name) => operationId(document, name));

/** @param untimed takes those of which nobody says how long they take: document and operation */
function operationsOf(context: JobContext, participant: Participant, untimed?: (readonly [string, string])[]): Operation[] {
  const { document } = participant;
  const own = Object.keys(document.labour ?? {});
  return Object.entries(document.labour ?? {}).map(([name, operation], index) => {
    const id = operationId(document, name);
    const time = operation.time ?? context.vehicle.times?.[document.id]?.[name];
    if (!time && !isDamaged(operation) && isWhole(context.vehicle, 'times')) untimed?.push([document.id, name]);
    const access = context.job.access?.find((one) => one.operation === id);
    return {
      id,
      says: operation.says ?? name,
      hours: time ? inUnit(time, 'h') : new D(0),
      factor: access?.factor ?? null,
      reason: access?.reason ?? null,
      unattended: operation.unattended ? quantityText(operation.unattended, context.words) : null,
      grade: operation.grade ?? context.shop.grade ?? Object.keys(context.shop.rates)[0] ?? '',
      passive: operation.unattended ? numberIn(operation.unattended, 'min') : 0,
      people: operation.people ?? 1,
      alone: operation.alone ? numberIn(operation.alone, 'min') : null,
      after: afterOf(context, document, own, index),
    };
  });
}

/** The work on what is known to be found; it begins when its document is open. */
function operationFor(context: JobContext, { id, thing, at }: Find): Operation[] {
  if (!thing.labour) return [];
  const { document } = at.participant;
  const opening = Object.entries(document.labour ?? {}).filter(([, one]) => one.section === undefined);
  return [
    {
      id: operationId(document, `might-find/${id}`),
      says: findWords(thing),
      hours: inUnit(thing.labour, 'h').times(thing.count ?? 1),
      factor: null,
      reason: null,
      unattended: null,
      grade: context.shop.grade ?? Object.keys(context.shop.rates)[0] ?? '',
      passive: 0,
      people: 1,
      alone: null,
      after: opening.slice(-1).map(([name]) => operationId(document, name)),
    },
  ];
}

/**
 * What must be over before an operation: those that it names; unsaid, the one written before it, and for the first one
 * of a document all of what the document needs. What falls into the close-up also waits for all that stands on its
 * document, a final for everything else.
 */
function afterOf(context: JobContext, document: WorkDocument, own: readonly string[], index: number): string[] {
  const name = own[index] ?? '';
  const operation = document.labour?.[name];
  const named = operation?.after;
  const unknown = named?.find((one) => !own.includes(one));
  if (operation && unknown !== undefined) {
    context.report(
      'labour/unknown-operation',
      `\`${unknown}\` is not an operation of \`${document.id}\`.${didYouMean(unknown, own)}`,
      spanOf(operation, 'after'),
    );
  }
  const before = own[index - 1];
  const first = named ? named.filter((one) => own.includes(one)) : before === undefined ? [] : [before];
  const chain = first.length > 0 ? first.map((one) => `${document.id}/${one}`) : lastOperations(context, document.needs ?? []);
  return [...new Set([...chain, ...waitedFor(context, document, operation?.section)])].filter((id) => id !== `${document.id}/${name}`);
}

function waitedFor(context: JobContext, document: WorkDocument, section: 'close-up' | 'final' | undefined): string[] {
  if (!section) return [];
  const earlier = (other: WorkDocument) =>
    Object.entries(other.labour ?? {}).flatMap(([name, one]) =>
      one.section === undefined || (section === 'final' && one.section !== 'final') ? [`${other.id}/${name}`] : [],
    );
  const documents = context.plan.participants.map((one) => one.document);
  if (section === 'final') return documents.flatMap(earlier);
  const standing = documents.filter((other) => other === document || needsIt(context, other, document.id));
  return standing.flatMap(earlier);
}

/** Whether a document stands on another, directly or through what it needs. */
const needsIt = (context: JobContext, document: WorkDocument, id: string): boolean => neededBy(context.library, [document.id]).has(id);

/** The operations that end the opening of what a document needs. */
function lastOperations(context: JobContext, needs: Needs, seen = new Set<WorkDocument>()): string[] {
  return needs.flatMap((need) => {
    const document = context.plan.participants.find((one) => one.document.id === wantedOf(need, context.library).id)?.document;
    if (!document || seen.has(document)) return [];
    seen.add(document);
    const opening = Object.entries(document.labour ?? {}).filter(([, one]) => one.section === undefined);
    const goOn = new Set(opening.flatMap(([, one], index) => one.after ?? (index > 0 ? [opening[index - 1]?.[0] ?? ''] : [])));
    const last = opening.filter(([name]) => !goOn.has(name));
    return last.length > 0 ? last.map(([name]) => `${document.id}/${name}`) : lastOperations(context, document.needs ?? [], seen);
  });
}

const schedules = new Map<string, Schedule | null>();
const mostSchedules = 500;

/** The same work is scheduled once: a job is compiled to be checked, to be printed, and as another way; and the same work comes again. */
function scheduled(tasks: readonly Task[], persons: number): Schedule | null {
  const key = JSON.stringify([persons, tasks]);
  let schedule = schedules.get(key);
  if (schedule === undefined) {
    schedule = shortestSchedule(tasks, persons);
    if (schedules.size >= mostSchedules) schedules.clear();
    schedules.set(key, schedule);
  }
  return schedule;
}

/** Bay time: the shortest schedule for the persons that work on this job. */
function compileSchedule(context: JobContext, operations: readonly Operation[]): CompiledJob['labour']['schedule'] {
  const tasks = operations.map(
    (one): Task => ({
      id: one.id,
      active: one.hours
        .times(one.factor ?? 1)
        .times(60)
        .toDecimalPlaces(0)
        .toNumber(),
      passive: Math.round(one.passive),
      persons: one.people,
      ...(one.alone === null ? {} : { alone: Math.round(one.alone) }),
      after: one.after,
    }),
  );
  const technicians = context.job.technicians ?? context.shop.technicians ?? 1;
  const schedule = scheduled(tasks, technicians);
  const alone = scheduled(tasks, 1);
  const path = criticalPath(tasks, technicians);
  if (!schedule || !alone || !path) {
    context.report(
      'labour/circle',
      'The operations of this job wait for each other in a circle (`after:`). Let the first one wait for none of the others.',
      spanOf(context.job, 'work', 'key'),
    );
    return null;
  }
  const says = new Map(operations.map((one) => [one.id, one.says]));
  context.working(() => ({
    of: 'labour/schedule/length',
    formula:
      'the shortest schedule over the order of the operations (branch and bound); unattended time is filled by what need not wait for it',
    inputs: tasks.map((task) => ({
      name: task.id,
      value: `${task.active} min${task.passive ? ` + ${task.passive} by itself` : ''}${task.persons > 1 ? `, ${task.persons} persons` : ''}`,
      from: task.after.length > 0 ? `after ${task.after.join(', ')}` : 'at once',
    })),
    result: `${schedule.length} min with ${technicians}, ${alone.length} min alone; critical path ${path.length} min`,
    rounding: 'whole minutes',
  }));
  return {
    technicians,
    length: schedule.length,
    alone: alone.length,
    critical: path.length,
    proven: schedule.proven,
    rows: schedule.slots.map((slot) => ({
      id: slot.id,
      says: says.get(slot.id) ?? slot.id,
      start: slot.start,
      end: slot.end,
      done: slot.done,
      by: [...slot.by],
    })),
  };
}
