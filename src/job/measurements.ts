import type { Decimal } from 'decimal.js';
import { shippedAs } from '../library/root.js';
import { nominalOf } from '../quantity/quantity.js';
import { convert, convertDifference, shownUnit, type Unit } from '../quantity/units.js';
import { staysIn } from '../resolve/measure/judge.js';
import type { Choice, Measurement } from '../schema/generated/compiled-job.js';
import type { Measurement as Declared, Choice as RawChoice } from '../schema/generated/types.js';
import { fileWith, spanOf } from '../schema/origin.js';
import type { Quantity } from '../quantity/quantity.js';
import type { JobContext } from './context.js';
import { constantIn, placeOfReading, readingsOf, unitOfReading } from './readings.js';
import { gradeName } from './item-names.js';
import { chosen, expectedOf, judged } from './settled.js';
import { limitText, plainNumber, quantityText } from './format.js';

export interface CompiledMeasurements {
  readonly measurements: Measurement[];
  /** Code by name. */
  readonly codes: ReadonlyMap<string, string>;
}

/** The measurements that the plan takes, each with the code that stands beside its blank and keys the record. */
export function compileMeasurements(context: JobContext): CompiledMeasurements {
  const taken = [...new Set(context.plan.steps.filter((step) => step.verb === 'measure').flatMap((step) => step.objects))];
  const codes = allocateCodes(context, taken, context.plan.scope.measurements, 'M');
  const measurements = taken.flatMap((id): Measurement[] => {
    const one = context.plan.scope.measurements.get(id);
    const code = codes.get(id);
    if (!one || code === undefined) return [];
    const readings = readingsOf(context.job, id, context.plan.scope.measurements);
    return [
      {
        code,
        id,
        name: one.name,
        limit: one.limit ? limitText(one.limit, context.words) : null,
        unit: one.limit ? shownUnit(one.limit.unit) : (one.unit ?? ''),
        // By the name that the tool list has for it; what has no key there stays as it is written.
        with: one.with === undefined ? null : (context.shop.tools?.[one.with]?.name ?? one.with),
        resolution: one.resolution ? limitText(one.resolution, context.words) : null,
        points: one.points ?? 1,
        calculated: calculatedBy(one, codes),
        takes: one.takes ?? null,
        outside: one.outside ?? null,
        expected: readings.length > 0 ? readings.map((reading) => quantityText(reading, context.words)).join(', ') : null,
        verdict: verdictOf(context, id, one, readings),
        spread: one['max-spread'] ? limitText(one['max-spread'], context.words) : null,
        ...boundsOf(one),
      },
    ];
  });
  return { measurements, codes };
}

/** How a reading is worked out, in the codes of the sheet; null where it is taken, or where nothing says in what it is counted. */
function calculatedBy(one: Declared, codes: ReadonlyMap<string, string>): Measurement['calculated'] {
  const { calculated: by } = one;
  const unit = unitOfReading(one);
  if (!by || !unit) return null;
  const coded = (names: readonly string[] = []) => names.map((name) => codes.get(name) ?? name);
  const [plus, minus] = [coded(by.plus), coded(by.minus)];
  const constant = constantIn(by, unit);
  const formula = [
    plus.join(' + '),
    ...minus.map((code) => ` \u2212 ${code}`),
    constant.isZero() ? '' : ` ${constant.isNegative() ? '\u2212' : '+'} ${by.constant?.text.replace(/^[-+\u2212]\s*/, '')}`,
  ].join('');
  return { formula, plus, minus, constant: constant.toString() };
}

/** The limits as numbers, in the unit of the blank. */
function boundsOf({ limit, 'max-spread': spread }: Declared): Pick<Measurement, 'low' | 'high' | 'mostSpread'> {
  const most = spread ? numberIn(limit?.unit, spread.high ?? nominalOf(spread), spread.unit, convertDifference) : null;
  return { low: limit?.low?.toString() ?? null, high: limit?.high?.toString() ?? null, mostSpread: most };
}

/** A number in the unit of the blank; what is of another kind, as is told elsewhere, stays as it was written. */
const numberIn = (unit: Unit | undefined, value: Decimal, from: Unit, to = convert): string =>
  (unit?.dimension === from.dimension ? to(value, from, unit) : value).toString();

/** What readings from before the job mean: told now, so that parts and the customer's yes are there in time. */
function verdictOf(context: JobContext, id: string, one: Declared, readings: readonly Quantity[]): string | null {
  const { limit, 'max-spread': spread } = one;
  const by = limit ?? spread;
  if (readings.length === 0 || !by) return null;
  const unit = by.unit.symbol;
  const span = placeOfReading(context.job, id);
  const result = judged(readings, one);
  const other = readings.find((reading) => reading.unit.dimension !== by.unit.dimension);
  if (!result || other) {
    context.report(
      'measurement/other-kind',
      `\`${id}\` is measured in ${unit}, and “${other?.text}” is something else. Write the reading with its right unit.`,
      span,
    );
    return null;
  }
  const { job } = context.words;
  const say = (how: (value: string, limit: string) => string, value: Decimal | readonly Decimal[], by: Quantity) =>
    how(
      [value]
        .flat()
        .map((one) => `${plainNumber(one, 4)} ${unit}`)
        .join(', '),
      limitText(by, context.words),
    );
  const { each } = result;
  const words = [
    limit && each && result.inside ? job.eachPasses(limitText(limit, context.words)) : null,
    limit && !(each && result.inside) ? say(result.inside ? job.passes : job.fails, each ?? result.value, limit) : null,
    spread ? say(result.spreadInside ? job.spreadPasses : job.spreadFails, result.spread, spread) : null,
  ].filter((part) => part !== null);
  if (!result.inside || !result.spreadInside) {
    context.report(
      'measurement/outside-limit',
      `${one.name}: ${words.join('; ')}.${one.outside ? ` Outside: ${one.outside}` : ''}`,
      span,
      'info',
    );
  }
  return words.join('; ');
}

/** Tells where readings from before the job choose nothing, or something else than the job expects. */
function tellChosenBefore(context: JobContext, id: string, choice: RawChoice): void {
  const span = placeOfReading(context.job, choice.from);
  const isWorkedOut = context.job.measured?.[choice.from] === undefined;
  for (const { value, unit, gives } of chosen(context.job, choice, context.plan.scope.measurements))
    if (gives === null)
      context.report(
        'measurement/outside-table',
        `${isWorkedOut ? `\`${choice.from}\` comes to ${plainNumber(value, 4)} ${unit.symbol}, which` : `${plainNumber(value, 4)} ${unit.symbol}`} lies outside the table of \`${id}\`. ${choice.outside ?? 'Stop and ask.'}`,
        span,
      );
    else if (context.job.expect?.[id] !== undefined && context.job.expect[id] !== gives)
      context.report(
        'measurement/expects-another',
        `${plainNumber(value, 4)} ${unit.symbol} gives \`${gives}\`, but this job expects \`${context.job.expect[id]}\`. Correct one of them.`,
        spanOf(context.job.expect, id),
      );
}

/**
 * A code of its own for each measurement or choice: the one that is declared, the shop's own documents before the shipped
 * ones; for the rest the next that is free.
 * @param letter what the codes of the rest begin with
 */
function allocateCodes<T extends Coded>(
  context: JobContext,
  taken: readonly string[],
  all: ReadonlyMap<string, T>,
  letter: string,
): Map<string, string> {
  const declared = taken.flatMap((id) => {
    const one = all.get(id);
    return one?.code ? [{ id, one, code: one.code, shipped: fileWith(one).path.startsWith(shippedAs) }] : [];
  });
  const owners = new Map<string, Coded>();
  const codes = new Map<string, string>();
  for (const { id, one, code, shipped } of [...declared.filter((entry) => !entry.shipped), ...declared.filter((entry) => entry.shipped)]) {
    const owner = owners.get(code);
    if (!owner) {
      owners.set(code, one);
      codes.set(id, code);
    } else if (!shipped) {
      context.report(
        'measurement/double-code',
        `The code ${code} stands for “${owner.name}” in this job already. Give \`${id}\` another one: it is the key of the record.`,
        spanOf(one, 'code'),
      );
    }
  }
  let next = 1;
  for (const id of taken) {
    while (!codes.has(id)) {
      const candidate = `${letter}-${String(next++).padStart(2, '0')}`;
      if (![...codes.values()].includes(candidate)) codes.set(id, candidate);
    }
  }
  return codes;
}

interface Coded {
  readonly code?: string;
  readonly name: string;
}

export function compileChoices(
  context: JobContext,
  codes: ReadonlyMap<string, string>,
): { readonly choices: Choice[]; readonly byName: ReadonlyMap<string, string> } {
  const made = [...new Set(context.plan.steps.filter((step) => step.verb === 'choose').flatMap((step) => step.objects))];
  const byName = allocateCodes(context, made, context.plan.scope.choices, 'C');
  const choices = made.flatMap((id): Choice[] => {
    const one = context.plan.scope.choices.get(id);
    const code = byName.get(id);
    if (!one || code === undefined) return [];
    tellChosenBefore(context, id, one);
    const measurement = context.plan.scope.measurements.get(one.from);
    const unit = measurement && unitOfReading(measurement);
    const inItsUnit = (end: Quantity): string => numberIn(unit, nominalOf(end), end.unit);
    const stays = one.stays === undefined ? null : (codes.get(one.stays) ?? one.stays);
    const rows: Choice['rows'] = one.table.map((row) => ({
      range: context.words.limit.over(row.over.text, row.to.text),
      name: gradeName(context, context.plan.scope, row),
      item: row.gives,
      over: inItsUnit(row.over),
      to: inItsUnit(row.to),
    }));
    const { inside, staysIn: says } = context.words.choice;
    if (stays !== null) rows.unshift({ range: inside(stays), name: says, item: staysIn, over: null, to: null });
    return [
      {
        code,
        id,
        name: one.name,
        from: codes.get(one.from) ?? one.from,
        stays,
        rows,
        expected: expectedOf(context.job, id, one, context.plan.scope.measurements),
        outside: one.outside ?? null,
      },
    ];
  });
  return { choices, byName };
}
