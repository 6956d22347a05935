import type { Decimal } from 'decimal.js';
import { inUnit, limitsIn, type Quantity, nominalOf } from '../quantity/quantity.js';
import { convert, D, unitOf } from '../quantity/units.js';
import { once } from '../once.js';
import { en } from '../words/en.js';
import type { Words } from '../words/words.js';

/** A number without needless zeros: 35, 8.72, 0.05. */
export const plainNumber = (value: Decimal, places: number): string => value.toDecimalPlaces(places, D.ROUND_HALF_UP).plus(0).toString();

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

/** `25 N·m` in the shop's unit, and beside it the value as written or in the other unit. */
export const bothTorques = (torque: Quantity, shopUnit: string): BothTorques =>
  once(
    once(shown, torque, () => new Map<string, BothTorques>()),
    shopUnit,
    () => torqueInBoth(torque, shopUnit),
  );

function torqueInBoth(torque: Quantity, shopUnit: string): BothTorques {
  const shop = unitOf(shopUnit);
  const value = nominalOf(torque);
  if (torque.unit === shop) {
    const second = unitOf(shopUnit === 'N·m' ? 'lbf·ft' : 'N·m');
    return {
      value: `${torqueNumber(value)} ${shop.symbol}`,
      other: `${convertedNumber(torque, second.symbol)} ${second.symbol}`,
    };
  }
  return {
    value: `${convertedNumber(torque, shopUnit)} ${shop.symbol}`,
    other: `${torqueNumber(value)} ${torque.unit.symbol}`,
  };
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
  const shown = (value: Decimal | null) => (value ? value.toFixed(decimals) : '');
  if (low && high) return limit.range(shown(low), shown(high), unit.symbol);
  if (nominal) return `${shown(nominal)} ${unit.symbol}`;
  return high ? limit.most(`${shown(high)} ${unit.symbol}`) : limit.least(`${shown(low)} ${unit.symbol}`);
}

export const litres = (quantity: Quantity): Decimal => inUnit(quantity, 'L');

/** `20 min`, `1.5 h`, as written. */
export const quantityText = (quantity: Quantity, words: Words = en): string => limitText(quantity, words);
