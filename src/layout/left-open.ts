import type { Decimal } from 'decimal.js';
import { once } from '../once.js';
import { D } from '../quantity/units.js';
import { calculated } from '../resolve/measure/calculated.js';
import { type Judged, judgeValues, type Takes } from '../resolve/measure/judge.js';
import type { Choice, CompiledJob, Measurement, Stage, Step } from '../schema/generated/compiled-job.js';
import type { Words } from '../words/words.js';
import type { Field, Paper, Piece } from './page.js';
import { isTicked, type JobRecord } from './recorded.js';
import type { Setting } from './setting.js';
import { numberIn } from './written-number.js';

/** A box or blank of the sheet, and the step that it belongs to; null on the first and the last pages. */
interface Asked {
  readonly field: Field;
  readonly step: number | null;
}

/**
 * What a record leaves open, in the words of the sheet: boxes without a tick, blanks without an entry, readings outside their
 * limits, a grade that the reading does not give, a check by the one who did the work. A step that waits for an outcome is
 * asked for where the readings of the record say so, or where it was ticked.
 * @param sheet the bay sheet of the job: what it asks for is what must be there
 */
export const leftOpen = (job: CompiledJob, sheet: Paper, record: JobRecord, set: Setting): string[] =>
  new Review(job, fieldsOf(sheet), record, set).open();

/** The boxes and blanks in their order, each once: what is kept for the record stands at its step and at the end. */
function fieldsOf({ pages }: Paper): Asked[] {
  const found = new Map<string, Asked>();
  let step: number | null = null;
  const visit = (piece: Piece): void => {
    if (piece.kind !== 'element') return;
    const { field } = piece;
    if (field) {
      if (field.key.startsWith('step/')) step = Number(field.key.slice('step/'.length));
      if (field.key.startsWith('ledger/')) step = null;
      once(found, field.key, () => ({ field, step }));
    }
    piece.children.forEach(visit);
  };
  for (const page of pages) page.pieces.forEach(visit);
  return [...found.values()];
}

/** `M-07` of `M-07.2/3`: that a thing is done again, and at which of its points, stands behind its code. */
const codeOf = (key: string): string => key.replace(/[./].*$/, '');

/** The readings that were taken at one step. */
interface Reading {
  /** What stands beside their blanks: `M-07.2`. */
  readonly at: string;
  readonly step: number | null;
  readonly one: Measurement;
  readonly values: readonly Decimal[];
  readonly judged: Judged;
}

class Review {
  private readonly words: Words['record'];
  /** By the code of the measurement, in the order of the sheet; only such as are whole. */
  private readonly readings = new Map<string, Reading[]>();
  private readonly measurements: ReadonlyMap<string, Measurement>;
  private readonly joints: ReadonlyMap<string, string>;
  private readonly stages: ReadonlyMap<string, readonly Stage[]>;
  private readonly fluids: ReadonlySet<string>;

  constructor(
    private readonly job: CompiledJob,
    private readonly asked: readonly Asked[],
    private readonly record: JobRecord,
    private readonly set: Setting,
  ) {
    this.words = set.words.record;
    this.measurements = new Map(job.measurements.map((one) => [one.code, one]));
    this.joints = new Map(job.joints.map(({ code, name }) => [code, name]));
    this.stages = new Map(job.joints.map(({ code, stages }) => [code, stages]));
    this.fluids = new Set([
      ...job.fluids.flatMap(({ blanks }) => [blanks.recovered, blanks.poured]),
      ...job.charges.flatMap(({ blanks }) => [blanks.recovered, blanks.charged]),
    ]);
    this.read();
  }

  open(): string[] {
    const due = this.asked.filter((one) => this.isDue(one));
    return [
      ...this.unticked(due),
      ...this.unwritten(due),
      ...this.miscalculated(),
      ...this.outside(),
      ...this.outsideAtJoints(due),
      ...this.wrongChoices(),
      ...this.samePersons(due),
    ];
  }

  private isTicked = (key: string): boolean => isTicked(this.record, key);

  private written = (key: string): string => (Object.hasOwn(this.record.values, key) ? (this.record.values[key] ?? '').trim() : '');

  private numberIn = (text: string, unit: string): Decimal | null => numberIn(text, unit, this.set.figure('0.0').charAt(1));

  private read(): void {
    const groups = new Map<string, { readonly step: number | null; readonly fields: Field[] }>();
    // What counts of several readings has a blank of its own at the end.
    for (const { field, step } of this.asked)
      if (step !== null && field.kind === 'blank' && this.measurements.has(codeOf(field.key)))
        once(groups, field.key.replace(/\/.*$/, ''), () => ({ step, fields: [] })).fields.push(field);
    for (const [at, { step, fields }] of groups) {
      const one = this.measurements.get(codeOf(at));
      const values = fields.flatMap(({ key }) => this.numberIn(this.written(key), one?.unit ?? '') ?? []);
      if (!one || values.length < fields.length) continue;
      const bound = (text: string | null): Decimal | null => (text === null ? null : new D(text));
      const bounds = { low: bound(one.low), high: bound(one.high), mostSpread: bound(one.mostSpread) };
      const judged = judgeValues(values, (one.takes ?? undefined) as Takes | undefined, bounds);
      once(this.readings, one.code, () => []).push({ at, step, one, values, judged });
    }
  }

  /** Whether a step is to be done, as far as the readings of the record say so. */
  private isStepDue({ n, when }: Step): boolean {
    return (
      when === null || this.isTicked(`step/${n}`) || when.some((way) => Object.entries(way).every(([code, any]) => this.isSo(code, any)))
    );
  }

  private isSo(code: string, any: readonly string[]): boolean {
    const [first] = this.readings.get(code) ?? [];
    if (first) return any.includes(first.judged.inside && first.judged.spreadInside ? 'inside' : 'outside');
    return any.some((item) => this.isTicked(`${code}/${item}`));
  }

  /** Whether a box or blank must be ticked or written. What is due after the job, or at the bench before it, is not asked for. */
  private isDue({ field, step }: Asked): boolean {
    const at = step === null ? undefined : this.job.steps[step - 1];
    if (at && !this.isStepDue(at)) return false;
    const { key } = field;
    const [kind = '', which = '', piece = ''] = key.split('/');
    const code = codeOf(key);
    // Whoever stops at a row of a ladder leaves those behind it.
    if (this.stageAt(kind, which)?.ladder) return Number(piece) <= Math.max(1, this.lastRow(`${kind}/${which}`));
    if (kind === 'ledger') {
      const opened = this.job.steps[(this.job.ledger.lines[Number(which) - 1]?.opened ?? 0) - 1];
      return opened === undefined || this.isStepDue(opened);
    }
    if (kind === 'signed') {
      const checked = this.job.steps.find(({ secondPerson }) => secondPerson?.code === which);
      return checked === undefined || this.isStepDue(checked);
    }
    if (field.kind === 'tick')
      return ['confirm', 'step'].includes(kind) || (kind === 'closing' && which !== 'parts-shown') || this.joints.has(code);
    if (this.measurements.has(code)) return at !== undefined;
    return this.fluids.has(code) || this.joints.has(code) || which === 'initials' || this.job.choices.some((one) => one.code === code);
  }

  /** The stage of a joint that a box or blank belongs to. */
  private stageAt(at: string, n: string): Stage | undefined {
    return this.stages.get(codeOf(at))?.find((stage) => String(stage.n) === n);
  }

  /** The last row of a ladder that is ticked; 0 where none is. */
  private lastRow(place: string): number {
    const rows = this.asked.flatMap(({ field: { kind, key } }) =>
      kind === 'tick' && key.startsWith(`${place}/`) && this.isTicked(key) ? [Number(key.slice(place.length + 1))] : [],
    );
    return Math.max(0, ...rows);
  }

  private *unticked(due: readonly Asked[]): Iterable<string> {
    const open = due.flatMap(({ field }) => (field.kind === 'tick' && !this.isTicked(field.key) ? [field] : []));
    const of = (kind: string) => open.filter(({ key }) => key.startsWith(`${kind}/`));
    for (const { label } of of('confirm')) yield this.words.notConfirmed(label);
    const steps = of('step').map(({ key }) => Number(key.slice('step/'.length)));
    if (steps.length > 0) yield this.words.steps(runsOf(steps));
    const stages = new Map<string, number[]>();
    for (const { key } of open) {
      const [at = '', stage = '', piece = ''] = key.split('/');
      if (this.joints.has(codeOf(key))) once(stages, `${at}/${stage}`, () => []).push(Number(piece));
    }
    for (const [place, pieces] of stages) {
      const [at = '', stage = ''] = place.split('/');
      yield this.words.joint(`${at} ${this.joints.get(codeOf(at))}`, stage, runsOf(pieces));
    }
    const seen = new Set(of('ledger').map(({ key }) => Number(key.slice('ledger/'.length))));
    const lines = this.job.ledger.lines.filter((_, index) => seen.has(index + 1));
    if (lines.length > 0) yield this.words.notSeen(lines.map(({ name }) => name).join(', '));
    for (const { label } of of('closing')) yield this.words.notTicked(label);
  }

  private *unwritten(due: readonly Asked[]): Iterable<string> {
    const blanks = due.flatMap(({ field }) => (field.kind === 'blank' ? [field] : []));
    const empty = blanks.filter(({ key }) => this.written(key) === '');
    // A label alone, such as initials, does not say of what.
    const named = ({ key, label }: Field): string => (key.endsWith('/initials') ? `${codeOf(key)} ${label}` : label);
    if (empty.length > 0) yield this.words.notWritten(empty.map(named).join(', '));
    for (const field of blanks) {
      const text = this.written(field.key);
      if (text !== '' && field.kind === 'blank' && field.unit !== '' && this.numberIn(text, field.unit) === null)
        yield this.words.noNumber(named(field), text.slice(0, 40), field.unit);
    }
  }

  /** What was worked out otherwise than the readings of the record give it; the last place that is written may be rounded. */
  private *miscalculated(): Iterable<string> {
    for (const [code, all] of this.readings) {
      const by = this.measurements.get(code)?.calculated;
      const last = all.at(-1);
      if (!by || !last) continue;
      const { figure } = this.set;
      // What is measured again afterwards is another reading.
      const before = (code: string) => this.readings.get(code)?.findLast(({ step }) => (step ?? 0) <= (last.step ?? 0));
      const terms = [...by.plus, ...by.minus].map((term, n) => ({ of: before(term), minus: n >= by.plus.length }));
      if (terms.some(({ of }) => of?.one.unit !== last.one.unit)) continue;
      const right = calculated(
        terms.map(({ of, minus }) => ({ values: of?.values ?? [], minus })),
        new D(by.constant),
      );
      const isRight = (value: Decimal, n: number): boolean =>
        right === null ||
        value
          .minus(right[n] ?? value)
          .abs()
          .lt(new D(10).pow(-value.decimalPlaces()));
      if (right?.length === last.values.length && !last.values.every(isRight))
        yield this.words.miscalculated(
          `${last.at} ${last.one.name}`,
          figure(by.formula),
          right.map((value) => figure(`${value} ${last.one.unit}`)).join(', '),
        );
    }
  }

  /** What lies outside its limit as the job leaves it, and nothing was done about: of what is measured again the last reading counts. */
  private *outside(): Iterable<string> {
    const { figure } = this.set;
    for (const [code, all] of this.readings) {
      const last = all.at(-1);
      const isAnswered = this.job.steps.some(
        ({ n, when }) =>
          n > (last?.step ?? 0) && when?.some((way) => way[code]?.includes('outside')) === true && this.isTicked(`step/${n}`),
      );
      if (!last || isAnswered) continue;
      const { at, one, judged } = last;
      const told = one.outside ? ` ${this.set.words.measurement.outside(one.outside)}` : '';
      const read = (judged.each ?? [judged.value]).map((value) => figure(`${value} ${one.unit}`)).join(', ');
      if (!judged.inside) yield `${this.words.outside(`${at} ${one.name}`, read, figure(one.limit ?? ''))}${told}`;
      else if (!judged.spreadInside)
        yield `${this.words.outside(`${at} ${one.name}`, figure(`${judged.spread} ${one.unit}`), figure(one.spread ?? ''))}${told}`;
    }
  }

  /** Readings of joints: each of a window, and of a ladder the last, which says that its end is reached. */
  private *outsideAtJoints(due: readonly Asked[]): Iterable<string> {
    const { figure } = this.set;
    for (const { field } of due) {
      const [at = '', n = '', piece = ''] = field.key.split('/');
      const stage = field.kind === 'blank' ? this.stageAt(at, n) : undefined;
      if (!stage || field.kind !== 'blank' || (stage.ladder && Number(piece) !== this.lastRow(`${at}/${n}`))) continue;
      const value = this.numberIn(this.written(field.key), field.unit);
      if (!value || !((stage.low !== null && value.lt(stage.low)) || (stage.high !== null && value.gt(stage.high)))) continue;
      const told = stage.outside ? ` ${this.set.words.measurement.outside(stage.outside)}` : '';
      const what = stage.ladder ? `${at} ${field.label}` : field.label;
      yield `${this.words.outside(what, figure(`${value} ${field.unit}`), figure(stage.ladder?.limit ?? stage.value))}${told}`;
    }
  }

  private *wrongChoices(): Iterable<string> {
    for (const choice of this.job.choices) {
      const step = this.job.steps.find((one) => one.choice === choice.code);
      if (!step || !this.isStepDue(step)) continue;
      if (choice.expected.length > 1) {
        yield* this.otherThanEachRead(choice);
        continue;
      }
      const ticked = choice.rows.filter(({ item }) => this.isTicked(`${choice.code}/${item}`));
      const name = `${choice.code} ${choice.name}`;
      const [only] = ticked;
      if (!only) yield this.words.notChosen(name);
      else if (ticked.length > 1) yield this.words.severalChosen(name);
      else yield* this.otherThanRead(choice, only);
    }
  }

  private *otherThanRead(choice: Choice, ticked: Choice['rows'][number]): Iterable<string> {
    const [reading] = this.readings.get(choice.from) ?? [];
    if (!reading) return;
    const { value } = reading.judged;
    const row = rowFor(choice, value, this.staying(choice)?.judged.inside === true);
    const [name, read] = [`${choice.code} ${choice.name}`, this.readAt(reading, value)];
    if (row && row.item !== ticked.item) yield this.words.otherChosen(name, read, row.name, ticked.name);
    if (!row) yield this.outsideTable(choice, name, read);
  }

  /** Where each reading chooses its own, what was chosen is written, mostly as the table calls it. */
  private *otherThanEachRead(choice: Choice): Iterable<string> {
    const [reading] = this.readings.get(choice.from) ?? [];
    if (!reading) return;
    const staying = this.staying(choice);
    for (const [n, value] of reading.values.entries()) {
      const kept = staying?.values[n];
      const row = rowFor(choice, value, kept !== undefined && staying !== undefined && lies(kept, staying.one));
      const key = `${choice.code}/${n + 1}`;
      const [written, another] = choice.rows.filter((one) => this.isCalled(this.written(key), one.name));
      const [name, read] = [`${key} ${choice.name}`, this.readAt(reading, value)];
      if (row && written && !another && written.item !== row.item) yield this.words.otherWritten(name, read, row.name, written.name);
      if (!row) yield this.outsideTable(choice, name, read);
    }
  }

  /** The reading that lets stay what is in, if it is there. */
  private staying = ({ stays }: Choice): Reading | undefined => (stays === null ? undefined : this.readings.get(stays)?.[0]);

  private readAt = ({ at, one }: Reading, value: Decimal): string => this.set.figure(`${at} ${value} ${one.unit}`);

  private outsideTable = (choice: Choice, name: string, read: string): string =>
    `${this.words.outsideTable(name, read)} ${choice.outside ?? ''}`.trim();

  /** Whether somebody wrote the name of a row, or a word of it, if as a number in another way: `2,5` for `shim 2.50`. */
  private isCalled(text: string, name: string): boolean {
    const isSame = (word: string): boolean => {
      const [one, other] = [text, word].map((words) => this.numberIn(words, ''));
      return one && other ? one.eq(other) : text.toLowerCase() === word.toLowerCase();
    };
    return text !== '' && [name, ...name.split(' ')].some(isSame);
  }

  private *samePersons(due: readonly Asked[]): Iterable<string> {
    const who = (key: string): string => this.written(key).toLowerCase();
    const done = who('signed/done');
    for (const { field } of due)
      if (done !== '' && field.key.endsWith('/initials') && [field.key, `signed/${codeOf(field.key)}`].some((key) => who(key) === done))
        yield this.words.samePerson(codeOf(field.key));
  }
}

/** The row of a table that a reading gives. */
const rowFor = ({ rows }: Choice, value: Decimal, isInside: boolean): Choice['rows'][number] | undefined =>
  rows.find(({ over, to }) => (over === null || to === null ? isInside : value.gt(over) && value.lte(to)));

const lies = (value: Decimal, { low, high }: Measurement): boolean =>
  (low === null || value.gte(low)) && (high === null || value.lte(high));

/** Whole numbers in rising order, runs as such: `3, 5–9`. */
function runsOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of numbers) {
    const run = runs.at(-1);
    if (run && run[1] === n - 1) run[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([first, last]) => (first === last ? `${first}` : `${first}${last === first + 1 ? ', ' : '–'}${last}`)).join(', ');
}
