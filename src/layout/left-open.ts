import type { Decimal } from 'decimal.js';
import { once } from '../once.js';
import { D } from '../quantity/units.js';
import { calculated } from '../resolve/measure/calculated.js';
import type { Choice, CompiledJob, Measurement } from '../schema/generated/compiled-job.js';
import type { Words } from '../words/words.js';
import { type Asked, codeOf, FilledIn, type Reading } from './filled-in.js';
import type { Field, Paper } from './page.js';
import type { JobRecord } from './recorded.js';
import type { Setting } from './setting.js';

/**
 * What a record leaves open, in the words of the sheet: boxes without a tick, blanks without an entry, readings outside their
 * limits, other amounts than are expected, a grade that the reading does not give, a check by the one who did the work. A step
 * that waits for an outcome is asked for where the readings of the record say so, or where it was ticked.
 * @param sheet the bay sheet of the job: what it asks for is what must be there
 */
export const leftOpen = (job: CompiledJob, sheet: Paper, record: JobRecord, set: Setting): string[] =>
  new Review(job, new FilledIn(job, sheet, record, set), set).open();

class Review {
  private readonly words: Words['record'];

  constructor(
    private readonly job: CompiledJob,
    private readonly filled: FilledIn,
    private readonly set: Setting,
  ) {
    this.words = set.words.record;
  }

  open(): string[] {
    const due = this.filled.due();
    return [
      ...this.unticked(due),
      ...this.unwritten(due),
      ...this.miscalculated(),
      ...this.outside(),
      ...this.outsideAtJoints(due),
      ...this.otherAmounts(due),
      ...this.wrongChoices(),
      ...this.samePersons(due),
    ];
  }

  private *unticked(due: readonly Asked[]): Iterable<string> {
    const open = due.flatMap(({ field }) => (field.kind === 'tick' && !this.filled.isTicked(field.key) ? [field] : []));
    const of = (kind: string) => open.filter(({ key }) => key.startsWith(`${kind}/`));
    for (const { label } of of('confirm')) yield this.words.notConfirmed(label);
    const steps = of('step').map(({ key }) => Number(key.slice('step/'.length)));
    if (steps.length > 0) yield this.words.steps(runsOf(steps));
    const stages = new Map<string, number[]>();
    for (const { key } of open) {
      const [at = '', stage = '', piece = ''] = key.split('/');
      if (this.filled.joints.has(codeOf(key))) once(stages, `${at}/${stage}`, () => []).push(Number(piece));
    }
    for (const [place, pieces] of stages) {
      const [at = '', stage = ''] = place.split('/');
      yield this.words.joint(`${at} ${this.filled.joints.get(codeOf(at))}`, stage, runsOf(pieces));
    }
    const seen = new Set(of('ledger').map(({ key }) => Number(key.slice('ledger/'.length))));
    const lines = this.job.ledger.lines.filter((_, index) => seen.has(index + 1));
    if (lines.length > 0) yield this.words.notSeen(lines.map(({ name }) => name).join(', '));
    for (const { label } of of('closing')) yield this.words.notTicked(label);
  }

  private *unwritten(due: readonly Asked[]): Iterable<string> {
    const blanks = due.flatMap(({ field }) => (field.kind === 'blank' ? [field] : []));
    const empty = blanks.filter(({ key }) => this.filled.written(key) === '');
    // A label alone, such as initials, does not say of what.
    const named = ({ key, label }: Field): string => (key.endsWith('/initials') ? `${codeOf(key)} ${label}` : label);
    if (empty.length > 0) yield this.words.notWritten(empty.map(named).join(', '));
    for (const field of blanks) {
      const text = this.filled.written(field.key);
      if (text !== '' && field.kind === 'blank' && field.unit !== '' && this.filled.numberIn(text, field.unit) === null)
        yield this.words.noNumber(named(field), text.slice(0, 40), field.unit);
    }
  }

  /** What was worked out otherwise than the readings of the record give it; the last place that is written may be rounded. */
  private *miscalculated(): Iterable<string> {
    for (const all of this.filled.readings.values()) {
      const last = all.at(-1);
      const by = last?.one.calculated;
      if (!by || !last) continue;
      const { figure } = this.set;
      // What is measured again afterwards is another reading.
      const before = (code: string) => this.filled.readings.get(code)?.findLast(({ step }) => (step ?? 0) <= (last.step ?? 0));
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
    for (const [code, all] of this.filled.readings) {
      const last = all.at(-1);
      const isAnswered = this.job.steps.some(
        ({ n, when }) =>
          n > (last?.step ?? 0) && when?.some((way) => way[code]?.includes('outside')) === true && this.filled.isTicked(`step/${n}`),
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
      const stage = field.kind === 'blank' ? this.filled.stageAt(at, n) : undefined;
      if (!stage || field.kind !== 'blank' || (stage.ladder && Number(piece) !== this.filled.lastRow(`${at}/${n}`))) continue;
      const value = this.filled.numberIn(this.filled.written(field.key), field.unit);
      if (!value || lies(value, stage)) continue;
      const told = stage.outside ? ` ${this.set.words.measurement.outside(stage.outside)}` : '';
      const what = stage.ladder ? `${at} ${field.label}` : field.label;
      yield `${this.words.outside(what, figure(`${value} ${field.unit}`), figure(stage.ladder?.limit ?? stage.value))}${told}`;
    }
  }

  /** What came out, or went in, and is not what the profile says of it. */
  private *otherAmounts(due: readonly Asked[]): Iterable<string> {
    for (const { field } of due) {
      const name = this.filled.fluids.get(codeOf(field.key));
      if (name === undefined || field.kind !== 'blank' || !field.limit) continue;
      const value = this.filled.numberIn(this.filled.written(field.key), field.unit);
      if (value && !lies(value, field.limit))
        yield this.words.otherAmount(`${field.label} (${name})`, this.set.figure(`${value} ${field.unit}`), field.limit.says);
    }
  }

  private *wrongChoices(): Iterable<string> {
    for (const choice of this.job.choices) {
      const step = this.job.steps.find((one) => one.choice === choice.code);
      if (!step || !this.filled.isStepDue(step)) continue;
      if (choice.expected.length > 1) {
        yield* this.otherThanEachRead(choice);
        continue;
      }
      const ticked = choice.rows.filter(({ item }) => this.filled.isTicked(`${choice.code}/${item}`));
      const name = `${choice.code} ${choice.name}`;
      const [only] = ticked;
      if (!only) yield this.words.notChosen(name);
      else if (ticked.length > 1) yield this.words.severalChosen(name);
      else yield* this.otherThanRead(choice, only);
    }
  }

  private *otherThanRead(choice: Choice, ticked: Choice['rows'][number]): Iterable<string> {
    const [reading] = this.filled.readings.get(choice.from) ?? [];
    if (!reading) return;
    const { value } = reading.judged;
    const row = rowFor(choice, value, this.staying(choice)?.judged.inside === true);
    const [name, read] = [`${choice.code} ${choice.name}`, this.readAt(reading, value)];
    if (row && row.item !== ticked.item) yield this.words.otherChosen(name, read, row.name, ticked.name);
    if (!row) yield this.outsideTable(choice, name, read);
  }

  /** Where each reading chooses its own, what was chosen is written, mostly as the table calls it. */
  private *otherThanEachRead(choice: Choice): Iterable<string> {
    const [reading] = this.filled.readings.get(choice.from) ?? [];
    if (!reading) return;
    const staying = this.staying(choice);
    for (const [n, value] of reading.values.entries()) {
      const kept = staying?.values[n];
      const row = rowFor(choice, value, kept !== undefined && staying !== undefined && lies(kept, staying.one));
      const key = `${choice.code}/${n + 1}`;
      const [written, another] = choice.rows.filter((one) => this.isCalled(this.filled.written(key), one.name));
      const [name, read] = [`${key} ${choice.name}`, this.readAt(reading, value)];
      if (row && written && !another && written.item !== row.item) yield this.words.otherWritten(name, read, row.name, written.name);
      if (!row) yield this.outsideTable(choice, name, read);
    }
  }

  /** The reading that lets stay what is in, if it is there. */
  private staying = ({ stays }: Choice): Reading | undefined => (stays === null ? undefined : this.filled.readings.get(stays)?.[0]);

  private readAt = ({ at, one }: Reading, value: Decimal): string => this.set.figure(`${at} ${value} ${one.unit}`);

  private outsideTable = (choice: Choice, name: string, read: string): string =>
    `${this.words.outsideTable(name, read)} ${choice.outside ?? ''}`.trim();

  /** Whether somebody wrote the name of a row, or a word of it, if as a number in another way: `2,5` for `shim 2.50`. */
  private isCalled(text: string, name: string): boolean {
    const isSame = (word: string): boolean => {
      const [one, other] = [text, word].map((words) => this.filled.numberIn(words, ''));
      return one && other ? one.eq(other) : text.toLowerCase() === word.toLowerCase();
    };
    return text !== '' && [name, ...name.split(' ')].some(isSame);
  }

  private *samePersons(due: readonly Asked[]): Iterable<string> {
    const who = (key: string): string => this.filled.written(key).toLowerCase();
    const done = who('signed/done');
    for (const { field } of due)
      if (done !== '' && field.key.endsWith('/initials') && [field.key, `signed/${codeOf(field.key)}`].some((key) => who(key) === done))
        yield this.words.samePerson(codeOf(field.key));
  }
}

/** The row of a table that a reading gives. */
const rowFor = ({ rows }: Choice, value: Decimal, isInside: boolean): Choice['rows'][number] | undefined =>
  rows.find(({ over, to }) => (over === null || to === null ? isInside : value.gt(over) && value.lte(to)));

const lies = (value: Decimal, { low, high }: Pick<Measurement, 'low' | 'high'>): boolean =>
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
