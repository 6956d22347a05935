import type { Decimal } from 'decimal.js';
import { nearest } from '../findings/suggest.js';
import { once } from '../once.js';
import { limitInWords, meantBehind, withoutRemark, withPoint } from './unread.js';
import { ambiguousUnits, convert, D, type Dimension, findUnit, foldUnit, spellings, type Unit, unitOf, units } from './units.js';

/**
 * A number with its unit, and with its limits where it has any. `nominal` is the value to aim at; a bare limit
 * (`max 0.05 mm`, `22..28 N·m`) has none. All numbers are in `unit`.
 */
export interface Quantity {
  readonly nominal: Decimal | null;
  readonly low: Decimal | null;
  readonly high: Decimal | null;
  readonly unit: Unit;
  /** As the author wrote it. */
  readonly text: string;
}

/** Whether a value of a document is a quantity. */
export const isQuantity = (value: unknown): value is Quantity =>
  typeof value === 'object' && value !== null && 'nominal' in value && 'unit' in value && 'text' in value;

/** What an offer contains: a number of pieces, or a quantity. */
export type Amount = { readonly pieces: number } | { readonly quantity: Quantity };

export type Parsed =
  | { readonly ok: true; readonly quantity: Quantity }
  | {
      readonly ok: false;
      readonly problem: QuantityProblem;
      readonly message: string;
      /** What it says, where it says that otherwise. */
      readonly meant?: Quantity;
      /** The same as it is written here. */
      readonly as?: string;
    };
export type QuantityProblem =
  | 'no-unit'
  | 'unknown-unit'
  | 'ambiguous-unit'
  | 'wrong-dimension'
  | 'decimal-comma'
  | 'clock-time'
  | 'unreadable'
  | 'reversed'
  | 'out-of-range'
  | 'vague';

const number = String.raw`[+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d{1,3})?`;
const fractional = String.raw`(?:\d+ )?\d+/0*[1-9]\d*|${number}`;
const leading = new RegExp(String.raw`^(max|min|<=|>=|≤|≥|<|>)?\s*(${fractional})\s*(.*)$`);
const rest = new RegExp(String.raw`^(?:(\.\.|±|\+/-)\s*(${fractional})\s*)?(.*)$`);

const examples: Readonly<Record<string, string>> = {
  torque: '25 N·m',
  angle: '90 deg',
  length: '0.05 mm',
  volume: '7.8 L',
  mass: '24 kg',
  time: '20 min',
  temperature: '40 °C',
  pressure: '1.2 bar',
  share: '50 %',
};

/** No quantity is longer, in characters. */
const longest = 100;

const fail = (problem: QuantityProblem, message: string): Parsed => ({ ok: false, problem, message });
/** A number with a space between its thousands. */
const spaced = /(?<![\d./])\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?![\d/])/;

const vague = /^(snug|tight|good and tight|hand ?tight|a bit|some|about|approx|ca\.?|as required|if necessary|to spec)/i;

/**
 * Reads a quantity as people write it: `25 N·m`, `25 ±3 Nm`, `22..28 N·m`, `max 0.05 mm`, `≤ 40 °C`, `100 lb-ft`.
 * @param text what the author wrote
 * @param dimension what it must measure, or `any`: then it may also be below zero
 * @param signed it may be below zero
 * @returns the quantity, or what is wrong with it and what to write instead; never throws
 */
export function parseQuantity(text: string, dimension: Dimension | 'any', signed = false): Parsed {
  if (signed) return readQuantity(text, dimension, true);
  // A longer piece of a text would keep all of that text.
  if (text.length > 12) return readQuantity(text, dimension);
  const known = once(parsed, dimension, () => new Map<string, Parsed>());
  if (known.size > mostKept) known.clear();
  return once(known, text, () => readQuantity(text, dimension));
}

/** The same where it cannot be read, with another example than the usual one of its dimension. */
export const whyNot = (text: string, dimension: Dimension | 'any', signed: boolean, example: string): Parsed =>
  readQuantity(text, dimension, signed, example);

/** The same few values stand in all documents, so what they mean is kept. */
const parsed = new Map<Dimension | 'any', Map<string, Parsed>>();
const mostKept = 5000;

function readQuantity(text: string, dimension: Dimension | 'any', signed = false, example = examples[dimension] ?? '0.05 mm'): Parsed {
  if (text.length > longest)
    return fail('unreadable', `“${text.slice(0, 20)}…” is not a number with a unit. Write, for example, ${example}.`);
  const clean = text.trim().replace(/−/g, '-');
  if (vague.test(clean))
    return fail('vague', `“${text}” is not a value that can be set or measured. Write a number with its unit, for example ${example}.`);
  if (/^\d+:\d/.test(clean))
    return fail(
      'clock-time',
      `“${text}” reads as a time of day. Write minutes or hours, for example ${clean.endsWith(':30') ? '90 min' : '20 min'}.`,
    );
  if (spaced.test(clean))
    return fail(
      'unreadable',
      `“${text}” has a space in its number. Write ${clean.replace(spaced, (number) => number.replace(/\D/g, ''))}.`,
    );
  const comma = /^(.*?\d),(\d+)(.*)$/.exec(clean);
  if (comma) {
    const [, whole = '', digits = '', behind = ''] = comma;
    return fail(
      'decimal-comma',
      /^\d{1,3}$/.test(whole) && digits.length === 3
        ? `“${text}” has a comma. Write ${whole}${digits}${behind} if it divides thousands, or ${whole}.${digits}${behind} if it is a decimal comma.`
        : `“${text}” has a decimal comma. Write a point: ${withPoint(whole, digits)}${behind}.`,
    );
  }
  if (/\d\/0+(?![\d./])/.test(clean)) return fail('unreadable', `“${text}” divides by nothing. Write the fraction anew, for example 1/2.`);
  const head = leading.exec(clean);
  if (!head) {
    const limit = limitIn(clean, dimension, signed);
    return limit ?? fail('unreadable', `“${text}” is not a number with a unit. Write, for example, ${example}.`);
  }
  const [, bound, first = '', tail = ''] = head;
  const range = rest.exec(tail);
  const [, joint, second, unitText = ''] = range ?? [];
  const relative = joint !== '..' && joint !== undefined && /^%/.test(unitText);
  const unitWords = relative ? unitText.replace(/^%\s*/, '') : unitText;
  if (unitWords === '') {
    const suggestion =
      dimension === 'any'
        ? ''
        : `, for example ${first} ${unitsOf(dimension)
            .slice(0, 3)
            .map((u) => u.symbol)
            .join(` or ${first} `)}`;
    return fail('no-unit', `“${text}” has no unit. Write the unit${suggestion}.`);
  }
  const readings = ambiguousUnits[foldUnit(unitWords)];
  // Of pounds and ounces one reading alone is a mass, and no other is near it: a torque has two.
  const asMass = dimension === 'mass' ? readings?.find((symbol) => unitOf(symbol).dimension === 'mass') : undefined;
  const unit = asMass === undefined ? findUnit(unitWords) : unitOf(asMass);
  if (readings && unit?.dimension !== dimension) {
    const sensible = readings.filter((symbol) => dimension === 'any' || unitOf(symbol).dimension === dimension);
    return fail(
      'ambiguous-unit',
      `“${unitWords}” can be read in more than one way. Write ${(sensible.length > 0 ? sensible : readings).map((symbol) => `${first} ${symbol}`).join(' or ')}.`,
    );
  }
  if (!unit) {
    const limit = limitIn(clean, dimension, signed);
    if (limit) return limit;
    const meant =
      meantBehind(first, tail, dimension) ?? withoutRemark(clean.slice(0, clean.length - unitWords.length), unitWords, dimension);
    if (meant)
      return {
        ...fail('unreadable', `“${text}” is not one value. ${meant.advice}`),
        ...(meant.as !== undefined && meaning(clean, meant.as, dimension, signed)),
      };
    return fail('unknown-unit', `“${unitWords}” is not a unit that is known here.${unitInstead(unitWords, dimension)}`);
  }
  if (dimension !== 'any' && unit.dimension !== dimension) {
    return fail(
      'wrong-dimension',
      `“${text}” is ${article(unit.dimension)}, but ${article(dimension)} is needed here, for example ${example}.`,
    );
  }
  const value = fraction(first);
  const other = second === undefined ? null : fraction(second);
  const most = mostOf(unit);
  if ([value, other].some((one) => one?.abs().gt(most)))
    return fail(
      'out-of-range',
      `“${text}” is more than there is in a workshop (at most ${most.toSignificantDigits(3).toString()} ${unit.symbol}). Check the number and the unit.`,
    );
  const below = dimension === 'any' || signed ? null : belowZero(dimension, joint === '..' ? other : value, [value, other]);
  if (below) return fail('out-of-range', `“${text}” ${below}, for example ${example}.`);
  const build = (nominal: Decimal | null, low: Decimal | null, high: Decimal | null): Parsed => ({
    ok: true,
    quantity: { nominal, low, high, unit, text: clean },
  });
  if (other !== null && joint === '..') {
    if (other.lt(value)) return fail('reversed', `The range “${text}” runs downwards. Write the smaller value first.`);
    return build(null, value, other);
  }
  if (other !== null) {
    const half = relative ? value.times(other).div(100).abs() : other.abs();
    return build(value, value.minus(half), value.plus(half));
  }
  if (bound === 'max' || bound === '≤' || bound === '<=' || bound === '<') return build(null, null, value);
  if (bound) return build(null, value, null);
  return build(value, null, null);
}

/** A limit that is said in words, with what to write; null where it is none. */
function limitIn(text: string, dimension: Dimension | 'any', signed: boolean): Parsed | null {
  const said = limitInWords(text);
  const meant = said === null ? null : meaning(text, said, dimension, signed);
  return meant && { ...fail('unreadable', `“${text}” says a limit in words. Write ${said}.`), ...meant };
}

/** What a text means that is no quantity, as one; null where that is none either. */
function meaning(text: string, as: string, dimension: Dimension | 'any', signed: boolean) {
  const read = readQuantity(as, dimension, signed);
  return read.ok ? { as, meant: { ...read.quantity, text } } : null;
}

/** What is nothing at all where there is none of it. */
const aboveZero: ReadonlySet<Dimension> = new Set<Dimension>(['torque', 'angle', 'volume', 'mass']);

/** Why a value cannot be so small; null where it can. Only a temperature is also below zero. */
function belowZero(dimension: Dimension, value: Decimal | null, all: readonly (Decimal | null)[]): string | null {
  if (dimension === 'temperature') return null;
  const isMore = aboveZero.has(dimension);
  const isBelow = all.some((one) => one?.lt(0));
  if (!isBelow && !(isMore && value?.isZero())) return null;
  return `is ${isBelow ? 'below zero' : 'nothing'}: write ${article(dimension)} ${isMore ? 'above zero' : 'of zero or more'}`;
}

/** The largest value that is read, in the base unit of each dimension: far above anything in a workshop, and small enough to compute with. */
const largest: Readonly<Record<Dimension, Decimal.Value>> = {
  torque: '1e6',
  angle: '1e6',
  length: '1e13',
  volume: '1e5',
  mass: '1e6',
  time: '3.2e9',
  temperature: '1e4',
  pressure: '1e8',
  share: '1e5',
  force: '1e9',
  voltage: '1e6',
  speed: '1e4',
  resistance: '1e13',
  current: '1e6',
  power: '1e8',
  'electric charge': '1e6',
  frequency: '1e10',
  'rotational speed': '1e6',
  flow: '1e6',
  'mass flow': '1e6',
  density: '1e3',
  'temperature difference': '1e4',
  acceleration: '1e5',
  energy: '1e6',
  capacitance: '1e9',
  conductivity: '1e9',
  'air ratio': '1e3',
  acidity: '1e2',
  'light absorption': '1e4',
  'sound level': '1e3',
  illuminance: '1e7',
  'luminous intensity': '1e7',
};

const most = new Map<Unit, Decimal>();
const mostOf = (unit: Unit): Decimal => once(most, unit, () => new D(largest[unit.dimension]).div(unit.factor));

const article = (dimension: string): string => (/^[aeiou]/.test(dimension) ? `an ${dimension}` : `a ${dimension}`);
const unitsOf = (dimension: Dimension): Unit[] => units.filter((unit) => unit.dimension === dimension);

/** What to write where a unit is not known. */
function unitInstead(written: string, dimension: Dimension | 'any'): string {
  if (dimension !== 'any')
    return ` For ${article(dimension)} write ${unitsOf(dimension)
      .map(({ symbol }) => symbol)
      .join(', ')}.`;
  const symbols = units.map(({ symbol }) => symbol);
  const near = nearest(written, symbols) ?? nearest(foldUnit(written), spellings);
  return `${near === undefined ? '' : ` Did you mean ${findUnit(near)?.symbol ?? near}?`} \`baywright explain quantity/unknown-unit\` lists those that are.`;
}

/** `0.5`, `3/4` or `1 1/2`. */
function fraction(text: string): Decimal {
  const [top = '0', bottom] = text.split('/');
  if (bottom === undefined) return new D(text);
  const [part = '0', whole = '0'] = top.split(' ').reverse();
  return new D(whole).plus(new D(part).div(bottom));
}

/** The one value to work with: the nominal, or the middle of a range, or the only limit. In `quantity.unit`. */
export function nominalOf(quantity: Quantity): Decimal {
  if (quantity.nominal) return quantity.nominal;
  if (quantity.low && quantity.high) return quantity.low.plus(quantity.high).div(2);
  return quantity.low ?? quantity.high ?? new D(0);
}

/** The value of `quantity` in another unit of the same dimension. */
export const inUnit = (quantity: Quantity, symbol: string): Decimal => convert(nominalOf(quantity), quantity.unit, unitOf(symbol));

/** The plain number in another unit: for estimates and geometry, never for money or mixing. */
export const numberIn = (quantity: Quantity, symbol: string): number => inUnit(quantity, symbol).toNumber();

/** Limits of the quantity in another unit. */
export function limitsIn(quantity: Quantity, symbol: string): { low: Decimal | null; high: Decimal | null } {
  const to = (value: Decimal | null) => (value ? convert(value, quantity.unit, unitOf(symbol)) : null);
  return { low: to(quantity.low), high: to(quantity.high) };
}

/** Whether a measured value lies inside the limits; inclusive at both ends. */
export function within(limit: Quantity, measured: Quantity): boolean {
  const value = convert(nominalOf(measured), measured.unit, limit.unit);
  if (limit.low && value.lt(limit.low)) return false;
  return !(limit.high && value.gt(limit.high));
}

/** Makes a quantity from a computed value. */
export const quantityOf = (value: Decimal.Value, symbol: string): Quantity => {
  const nominal = new D(value);
  return { nominal, low: null, high: null, unit: unitOf(symbol), text: `${nominal.toString()} ${symbol}` };
};

/** How much there is of an item, as catalogues and demands count it: pieces, or millilitres, or grams. */
export const unitsIn = (amount: Amount): number =>
  'pieces' in amount
    ? amount.pieces
    : inUnit(amount.quantity, amount.quantity.unit.dimension === 'mass' ? 'g' : 'mL')
        .floor()
        .toNumber();
