import { D, type Dimension, findUnit, type Unit } from './units.js';

const value = String.raw`\d+(?:\.\d+)?`;
/** `25 Nm - 30 Nm`, `25-30 Nm`, `25 to 30 Nm`: what stands behind the first number. */
const range = new RegExp(String.raw`^(.*?)\s*(?:-|–|—|\bto\b|\bbis\b)\s*(${value})\s*(.*)$`, 'i');
/** `25 Nm ±10%` */
const tolerance = new RegExp(String.raw`^(.+?)\s*(?:±|\+/-)\s*(${value})\s*(.*)$`);
const deviation = String.raw`(?:[+-]\s*${value}|[±+-]?0)`;
/** `25 +3/-2 Nm`, `0.5 mm (+0.1 -0.05)`, `10 0/-0.2 mm` */
const deviations = new RegExp(String.raw`^(.*?)\s*\(?\s*(${deviation})\s*[/,;\s]\s*(${deviation})\s*\)?\s*(.*)$`);
/** `10 +0.2 mm` */
const above = new RegExp(String.raw`^(.*?)\s*(\+\s*${value})\s*(.*)$`);
/** What stands between two values: `25 Nm + 90°`, `25 Nm, then 90 deg`, `1 h 30 min`. */
const between = /\s*(?:[+,;&]|\/(?=\s*\d)|\b(?:and|then|plus|und|dann)\b)+\s*|(?<=[^\s\d.])\s+(?=\d)/i;
const single = new RegExp(String.raw`^(${value})\s*(\D+)$`);
/** `1h30` */
const hours = /^h\s*(\d{1,2})$/i;
/** `0°10'`, `0°30' ±30'` */
const minutes = /^\s*°\s*(\d{1,2})\s*['′](.*)$/;
/** What ends the unit in `25 Nm (dry)`, `1.7 L with filter`, `30 Nm + threadlocker`. */
const afterUnit = /[\s,;(+]+(?=[\p{L}\d])/gu;

/** Words for a limit, before the number and behind it. */
const limitWords = [
  {
    bound: 'max',
    before:
      /^(?:up to|at (?:the )?most|(?:not|no) (?:more|higher|greater|larger|longer)(?: than)?|(?:not|no) (?:over|above)|(?:less|lower|smaller|shorter|fewer) than|under|below|maximum|max[.:=]|max(?= [:=])|bis zu|bis|höchstens|maximal|unter|(?:weniger|kleiner|niedriger) als|nicht (?:mehr als|über))/i,
    behind: /(?:max\.?|maximum|at (?:the )?most|(?:or|and) (?:less|lower|below|under)|(?:oder|und) (?:weniger|kleiner|darunter))\)?$/i,
  },
  {
    bound: 'min',
    before:
      /^(?:at (?:the )?least|(?:not|no) (?:less|lower|smaller|shorter)(?: than)?|(?:not|no) (?:under|below)|(?:more|greater|larger|higher|longer) than|over|above|from|minimum|min[.:=]|min(?= [:=])|mindestens|minimal|ab|über|(?:mehr|größer|höher) als|nicht (?:weniger als|unter))/i,
    behind: /(?:min\.?|minimum|at (?:the )?least|(?:or|and) (?:more|above|over|up|higher)|(?:oder|und) (?:mehr|größer|darüber))\)?$/i,
  },
] as const;
/** What stands before a range of words: `between 0.1 and 0.5 mm`. */
const ends = new RegExp(String.raw`^(?:between|from|zwischen|von)\s+(${value}.*?)\s+(?:and|to|und|bis)\s+(${value}.*)$`, 'i');

/**
 * A limit that is said in words, as it is written here: `up to 0.5 mm` is `max 0.5 mm`, `between 1 and 2 mm` is `1..2 mm`.
 * @returns null where the text is none; what it returns need not be a quantity
 */
export function limitInWords(text: string): string | null {
  const [, first, second] = ends.exec(text) ?? [];
  if (first !== undefined && second !== undefined) return `${new RegExp(`^${value}`).exec(first)?.[0]}..${second}`;
  for (const { bound, before, behind } of limitWords)
    for (const words of [before, behind]) {
      const alone = text.replace(words, '').replace(/^[\s:=]+|[\s,(]+$/g, '');
      if (alone !== text && /^[-\d.]/.test(alone)) return `${bound} ${alone}`;
    }
  return null;
}

/** What somebody means by a text that is no quantity. */
export interface Meant {
  readonly advice: string;
  /** The same as one quantity, if it is one; it need not be readable. */
  readonly as?: string;
}

/**
 * What to write where more stands behind a number than its unit: a range, a tolerance, a second value.
 * @param first the number
 * @param behind all that stands behind it
 * @returns null where it is none of these
 */
export function meantBehind(first: string, behind: string, dimension: Dimension | 'any'): Meant | null {
  const isUnit = (text: string) => isUnitOf(text, dimension);
  const one = (advice: string, as: string): Meant => ({ advice: `${advice}: ${as}.`, as });
  const [, before = '', second = '', unit = ''] = range.exec(behind) ?? [];
  if (second !== '' && (before === '' || isUnit(before)) && (isUnit(unit) || (unit === '' && before !== '')))
    return one('Write a range with two dots', `${first}..${second} ${unit || before}`);
  const [, its = '', by = '', what = ''] = tolerance.exec(behind) ?? [];
  if (isUnit(its)) return one('Write the tolerance before the unit', `${first} ±${by}${what === '%' ? '%' : ''} ${its}`);
  const [, of = '', size = '', other = '0', ofBoth = ''] = deviations.exec(behind) ?? above.exec(behind)?.toSpliced(3, 0, '0') ?? [];
  if (size !== '' && !first.includes('/') && (of === '') !== (ofBoth === '') && isUnit(of || ofBoth)) {
    const [least, most] = [size, other].map((by) => new D(first).plus(by.replace(/[\s±]/g, ''))).sort((a, b) => a.comparedTo(b));
    return one('Write from where to where it may be, with two dots', `${least}..${most} ${of || ofBoth}`);
  }
  const arc = minutes.exec(behind);
  if (arc) return { advice: inMinutes(first, arc[1] ?? '', arc[2] ?? '') };
  const [, inHours] = dimension === 'time' ? (hours.exec(behind) ?? []) : [];
  const values = valuesIn(inHours ? `${first} h ${inHours} min` : `${first} ${behind}`);
  return values.length > 1 ? { advice: ofSeveral(values) } : null;
}

const isUnitOf = (text: string, dimension: Dimension | 'any'): boolean => {
  const unit = findUnit(text);
  return unit !== undefined && (dimension === 'any' || unit.dimension === dimension);
};

/**
 * The value alone of a text in which a remark stands behind it.
 * @param value all before the unit
 * @param unit the unit with the remark
 */
export function withoutRemark(value: string, unit: string, dimension: Dimension | 'any'): Meant | null {
  const cuts = [...unit.matchAll(afterUnit)].map(({ index, 0: { length } }) => [unit.slice(0, index), unit.slice(index + length)] as const);
  const [alone, behind = ''] = cuts.findLast(([words]) => isUnitOf(words, dimension)) ?? [];
  // `100 km h` is a unit that is misspelt.
  if (alone === undefined || findUnit(behind)) return null;
  const as = `${value.trim()} ${alone}`;
  return { advice: `Write the value alone: ${as}. What else is to be said stands under a key of its own.`, as };
}

/** Degrees and minutes as minutes alone: `-1°30'` is -90 arcmin. */
function inMinutes(degrees: string, written: string, behind: string): string {
  const all = new D(degrees).abs().times(60).plus(written);
  const value = degrees.startsWith('-') ? all.negated() : all;
  return `Write degrees and minutes as minutes: ${value}${behind.trim() === '' ? '' : ' …'} arcmin.`;
}

interface Value {
  readonly number: string;
  readonly unit: Unit;
}

/** The values of a text that is nothing but values; none otherwise. */
function valuesIn(text: string): Value[] {
  const values: Value[] = [];
  for (const part of text.split(between).filter((one) => one !== '')) {
    const [, number = '', written = ''] = single.exec(part) ?? [];
    const unit = findUnit(written);
    if (!unit) return [];
    values.push({ number, unit });
  }
  return values;
}

/** A torque with its angles, as stages. @returns null where it is none */
function asStages([first, ...others]: readonly Value[]): string | null {
  if (first?.unit.dimension !== 'torque' || others.length === 0 || others.some(({ unit }) => unit.dimension !== 'angle')) return null;
  return `[${[first, ...others].map(({ number, unit }) => `{ ${unit.dimension}: ${number} ${unit.symbol} }`).join(', ')}]`;
}

/** The same of a text: `80 Nm + 90°` is `[{ torque: 80 N·m }, { angle: 90 deg }]`. */
export const stagesIn = (text: string): string | null => asStages(valuesIn(text.trim()));

function ofSeveral(values: readonly Value[]): string {
  const stages = asStages(values);
  if (stages !== null) return `Torque and angle are stages of their own: stages: ${stages}.`;
  if (values.every(({ unit }) => unit.dimension === 'time')) {
    const seconds = values.reduce((sum, { number, unit }) => sum.plus(unit.factor.times(number)), new D(0));
    return `Write one number: ${seconds.div(60)} min.`;
  }
  return `One is needed: ${values.map(({ number, unit }) => `${number} ${unit.symbol}`).join(' or ')}.`;
}

/** A number that is written with a decimal comma: `1.054,90` is 1054.90. */
export const withPoint = (whole: string, digits: string): string =>
  `${whole.replace(/\d{1,3}(?:\.\d{3})+$/, (thousands) => thousands.replaceAll('.', ''))}.${digits}`;
