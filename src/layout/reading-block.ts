import type { Choice, CompiledJob, Measurement, Step } from '../schema/generated/compiled-job.js';
import { type Blank, type Block, blanks, framed, paragraph, smallStyle, stack, strongStyle } from './blocks.js';
import { table, tickBlock } from './rows.js';
import type { Limit, WorkedOut } from './page.js';
import type { Setting } from './setting.js';
import { rule } from './style.js';
import { codeAt, eachCounts } from './times.js';

/** What was read before the job, and what came of it; a single reading is said once. */
function readBefore({ words, figure }: Setting, { expected, verdict }: Measurement): string {
  if (!expected) return '';
  if (!verdict) return `; ${words.measurement.before(figure(expected))}`;
  return verdict.startsWith(`${expected} `)
    ? `; ${words.beforeJob(figure(verdict))}`
    : `; ${words.measurement.before(figure(expected))}: ${figure(verdict)}`;
}

/** What each of its readings must lie within by itself: of the largest no least, of a mean or a difference nothing. */
function limitOfEach(set: Setting, { points, takes, limit, low, high }: Measurement): Limit | null {
  if (limit === null) return null;
  const alone = points < 2 || eachCounts({ takes });
  const least = alone || takes === 'min' ? low : null;
  const most = alone || takes === 'max' ? high : null;
  return least === null && most === null ? null : { low: least, high: most, says: set.figure(limit) };
}

/** From which blanks a reading is worked out: those of the last step at which each was read; none where a screen cannot. */
function workedOutAt(job: CompiledJob, { calculated: by, unit, points }: Measurement, { n }: Step): ((point: number) => WorkedOut) | null {
  if (!by) return null;
  const keysOf = (codes: readonly string[]) =>
    codes.flatMap((code) => {
      const one = job.measurements.find((other) => other.code === code);
      const read = job.steps.findLast((step) => step.n <= n && step.measurements.includes(code));
      if (!one || !read || one.unit !== unit || ![1, points].includes(one.points)) return [];
      return [(point: number) => (one.points > 1 ? `${codeAt(read, code)}/${point}` : codeAt(read, code))];
    });
  const [plus, minus] = [keysOf(by.plus), keysOf(by.minus)];
  if (plus.length < by.plus.length || minus.length < by.minus.length) return null;
  return (point) => ({ plus: plus.map((key) => key(point)), minus: minus.map((key) => key(point)), constant: by.constant });
}

/** A reading to take: its limit, its blanks, what to do outside. */
export function measurementBlock(set: Setting, job: CompiledJob, one: Measurement, step: Step, width: number): Block {
  const code = codeAt(step, one.code);
  const { measurement, takes, limit } = set.words;
  const spread = one.spread?.replace(limit.most(''), '');
  const by = one.calculated && measurement.calculated(set.figure(one.calculated.formula), one.points > 1);
  const limited = one.limit && set.figure(one.limit);
  const how = by && limited ? `${by}; ${limited}` : (by ?? limited ?? measurement.writeDown);
  const words = [
    `${code}  ${one.name}: ${how}${one.takes && !(by && one.takes === 'each') ? ` (${takes[one.takes] ?? one.takes})` : ''}`,
    spread ? `; ${measurement.spread(set.figure(spread))}` : '',
    one.with ? `, ${measurement.with(one.with, one.resolution && set.figure(one.resolution))}` : '',
    // What is taken again, after the work, is not what was read before it.
    code === one.code ? readBefore(set, one) : '',
  ].join('');
  const { unit } = one;
  const alone = limitOfEach(set, one);
  const workedOut = workedOutAt(job, one, step);
  const points = Array.from({ length: one.points }, (_, index): Blank => {
    const n = String(index + 1);
    const told = { unit, ...(alone && { limit: alone }), ...(workedOut && { workedOut: workedOut(index + 1) }) };
    return one.points > 1 ? { key: `${code}/${n}`, label: n, says: `${code} ${n}`, ...told } : { key: code, label: code, ...told };
  });
  const outside = one.outside ? [paragraph(set, measurement.outside(one.outside), width - 12, smallStyle)] : [];
  return framed(
    stack([paragraph(set, words, width - 12, strongStyle), blanks(set, points, width - 12), ...outside], 4),
    width,
    5,
    rule.hair,
  );
}

/** A table by which a reading chooses. @param code what stands beside its boxes */
export function choiceBlock(set: Setting, choice: Choice, code: string, width: number): Block {
  const words = set.words.choice;
  const { expected } = choice;
  const each = expected.length > 1;
  const columns = [
    { title: words.from(code, choice.name, choice.from), share: 4 },
    { title: words.gives, share: each ? 4 : 3 },
    ...(each ? [] : [{ title: words.tick, share: 1 }]),
  ];
  const rows = choice.rows.map((row) => {
    const at = expected.flatMap((item, n) => (item === row.item ? [n + 1] : []));
    const says = at.length === 0 ? '' : ` ${at.length === expected.length ? words.expected : words.expectedAt(at.join(', '))}`;
    return [set.figure(row.range), `${row.name}${says}`, ...(each ? [] : [tickBlock(`${code}/${row.item}`, row.name)])];
  });
  const chosen = Array.from(expected, (_, n): Blank => ({ key: `${code}/${n + 1}`, label: String(n + 1), says: `${code} ${n + 1}` }));
  const under = each ? [paragraph(set, words.each, width, smallStyle), blanks(set, chosen, width)] : [];
  const outside = choice.outside ? [paragraph(set, words.outside(choice.outside), width, smallStyle)] : [];
  return stack([...table(set, columns, rows, width), ...under, ...outside], 1);
}
