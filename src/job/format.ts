import type { Decimal } from 'decimal.js';
import { inUnit, limitsIn, type Quantity, nominalOf } from '../quantity/quantity.js';
import { convert, D, shownUnit, unitOf } from '../quantity/units.js';
import { once } from '../once.js';
import { en } from '../words/en.js';
import type { Words } from '../words/words.js';

/** A number without needless zeros: 35, 8.72, 0.05. */
export const plainNumber = (value: Decimal, places: number): string => value.toDecimalPlaces(places, D.ROUND_HALF_UP).plus(0).toString();

/** What a jug and a measuring cylinder show: hundredths, below a litre millilitres. @param value in L */
export const litresNumber = (value: Decimal): string => plainNumber(value, value.abs().lt(1) ? 3 : 2);

/** What a wrench can show: two places below 100, one above. */
export const torqueNumber = (value: Decimal): string => plainNumber(value, value.abs().lt(100) ? 2 : 1);

/**
 * A converted torque, to one place, or two below ten: a shown figure promises no more than was written. With a stated
 * tolerance as many places as it takes for the shown figure, turned back, to lie inside it.
 */
function convertedNumber(torque: Quantity, symbol: string): string {
  const to = unitOf(symbol);
  const value = convert(nominalOf(torque), torque.unit, to);
  for (let places = value.abs().lt(10) ? 2 : 1; places < 6; places++) {
    const number = plainNumber(value, places);
    const back = convert(new D(number), to, torque.unit);
    if (!(torque.low && back.lt(torque.low)) && !(torque.high && back.gt(torque.high))) return number;
  }
  return plainNumber(value, 6);
}

interface BothTorques {
  readonly value: string;
  readonly other: string;
}

const shown = new WeakMap<Quantity, Map<string, BothTorques>>();

/**
 * `25 N·m` in one unit, and beside it the value as written or in another unit.
 * @param unit in which it is set
 * @param shopUnit stands beside it where it is another
 */
export const bothTorques = (torque: Quantity, unit: string, shopUnit = unit): BothTorques =>
  once(
    once(shown, torque, () => new Map<string, BothTorques>()),
    `${unit} ${shopUnit}`,
    () => torqueInBoth(torque, unit, shopUnit),
  );

function torqueInBoth(torque: Quantity, unit: string, shopUnit: string): BothTorques {
  const written = `${torqueNumber(nominalOf(torque))} ${torque.unit.symbol}`;
  const converted = (to: string) => `${convertedNumber(torque, to)} ${to}`;
  if (torque.unit.symbol !== unit) return { value: converted(unit), other: written };
  return { value: written, other: converted(shopUnit !== unit ? shopUnit : unit === 'N·m' ? 'lbf·ft' : 'N·m') };
}

/** Limits rounded so that the range never grows: up at the lower end, down at the upper. */
export function toleranceText(quantity: Quantity, unit: string, { limit }: Words = en): string | null {
  const { low, high } = limitsIn(quantity, unit);
  if (!low || !high) return null;
  return limit.range(String(low.toDecimalPlaces(2, D.ROUND_CEIL)), String(high.toDecimalPlaces(2, D.ROUND_FLOOR)), unit);
}

/** `max 0.05 mm`, `47 to 53 %` or `25 N·m`, in words. */
export function limitText(quantity: Quantity, { limit }: Words = en): string {
  const { low, high, nominal, unit, text } = quantity;
  const all = [low, high, nominal].filter((one) => one !== null);
  // Limits have as many decimals as each other, and as their author gave them: 0.001 to 0.010 in.
  const decimals = Math.max(
    ...all.map((one) => one.decimalPlaces()),
    ...Array.from(text.matchAll(/\d\.(\d+)/g), ([, digits = '']) => digits.length),
  );
  const fractions = fractionsIn(quantity);
  const shown = (value: Decimal | null, n = 0) => fractions?.[n] ?? value?.toFixed(decimals) ?? '';
  const symbol = shownUnit(unit);
  if (low && high) return limit.range(shown(low), shown(high, 1), symbol);
  if (nominal) return `${shown(nominal)} ${symbol}`;
  return high ? limit.most(`${shown(high)} ${symbol}`) : limit.least(`${shown(low)} ${symbol}`);
}

/** Its numbers where it was written with a fraction (`4/32 in`), as the instrument shows it too. */
function fractionsIn({ low, high, text }: Quantity): readonly string[] | null {
  const numbers = text.match(/(?:\d+ )?\d+\/\d+|\d+(\.\d+)?/g) ?? [];
  const isOne = numbers.length === (low && high ? 2 : 1) && !/±|\+/.test(text);
  return isOne && numbers.some((one) => one.includes('/')) ? numbers : null;
}

export const litres = (quantity: Quantity): Decimal => inUnit(quantity, 'L');

/** `20 min`, `1.5 h`, as written. */
export const quantityText = (quantity: Quantity, words: Words = en): string => limitText(quantity, words);
