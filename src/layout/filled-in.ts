import type { Decimal } from 'decimal.js';
import { once } from '../once.js';
import { D } from '../quantity/units.js';
import { type Judged, judgeValues, type Takes } from '../resolve/measure/judge.js';
import type { CompiledJob, Measurement, Stage, Step } from '../schema/generated/compiled-job.js';
import type { Field, Paper, Piece } from './page.js';
import { isTicked, type JobRecord, writtenAt } from './recorded.js';
import type { Setting } from './setting.js';
import { numberIn } from './written-number.js';

/** A box or blank of the sheet, and the step that it belongs to; null on the first and the last pages. */
export interface Asked {
  readonly field: Field;
  readonly step: number | null;
}

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
export const codeOf = (key: string): string => key.replace(/[./].*$/, '');

/** The readings that were taken at one step. */
export interface Reading {
  /** What stands beside their blanks: `M-07.2`. */
  readonly at: string;
  readonly step: number | null;
  readonly one: Measurement;
  readonly values: readonly Decimal[];
  readonly judged: Judged;
}

/** A bay sheet as somebody filled it in. */
export class FilledIn {
  /** All that the sheet asks for. */
  private readonly asked: readonly Asked[];
  /** By the code of the measurement, in the order of the sheet; only such as are whole. */
  readonly readings = new Map<string, Reading[]>();
  /** The names of joints, and of what is drained and filled, by the codes beside their boxes and blanks. */
  readonly joints: ReadonlyMap<string, string>;
  readonly fluids: ReadonlyMap<string, string>;
  private readonly measurements: ReadonlyMap<string, Measurement>;
  private readonly stages: ReadonlyMap<string, readonly Stage[]>;

  constructor(
    private readonly job: CompiledJob,
    sheet: Paper,
    private readonly record: JobRecord,
    private readonly set: Setting,
  ) {
    this.asked = fieldsOf(sheet);
    this.measurements = new Map(job.measurements.map((one) => [one.code, one]));
    this.joints = new Map(job.joints.map(({ code, name }) => [code, name]));
    this.stages = new Map(job.joints.map(({ code, stages }) => [code, stages]));
    this.fluids = new Map([
      ...job.fluids.flatMap(({ name, blanks }) => [blanks.recovered, blanks.poured].map((code) => [code, name] as const)),
      ...job.charges.flatMap(({ name, blanks }) => [blanks.recovered, blanks.charged].map((code) => [code, name] as const)),
    ]);
    this.read();
  }

  /** What must be ticked or written, as far as the readings say so. */
  due = (): Asked[] => this.asked.filter((one) => this.isDue(one));

  isTicked = (key: string): boolean => isTicked(this.record, key);

  written = (key: string): string => writtenAt(this.record, key) ?? '';

  numberIn = (text: string, unit: string): Decimal | null => numberIn(text, unit, this.set.figure('0.0').charAt(1));

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
  isStepDue({ n, when }: Step): boolean {
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
  stageAt(at: string, n: string): Stage | undefined {
    return this.stages.get(codeOf(at))?.find((stage) => String(stage.n) === n);
  }

  /** The last row of a ladder that is ticked; 0 where none is. */
  lastRow(place: string): number {
    const rows = this.asked.flatMap(({ field: { kind, key } }) =>
      kind === 'tick' && key.startsWith(`${place}/`) && this.isTicked(key) ? [Number(key.slice(place.length + 1))] : [],
    );
    return Math.max(0, ...rows);
  }
}
