import type { Decimal } from 'decimal.js';
import { D } from '../quantity/units.js';

/**
 * A number as somebody writes it into a blank, with a comma, as a fraction (`4/32`, `1 3/8`) or with its unit; null where it is
 * none, or where the other sign than that of the region may divide thousands.
 */
export function numberIn(text: string, unit: string, sign: string): Decimal | null {
  const bare = text.endsWith(unit) ? text.slice(0, text.length - unit.length).trim() : text;
  const [, whole = '0', top, bottom] = /^(?:(\d{1,4}) )?(\d{1,4})\/([1-9]\d{0,3})$/.exec(bare) ?? [];
  if (top !== undefined && bottom !== undefined) return new D(whole).plus(new D(top).div(bottom));
  if (/^[^.,]*[1-9]\d{0,2}[.,]\d{3}$/.test(bare) && bare.at(-4) !== sign) return null;
  const plain = bare.replace('\u2212', '-').replace(/^([^.,]*),([^.,]*)$/, '$1.$2');
  return /^[+-]?\d{1,12}(\.\d{1,12})?$/.test(plain) ? new D(plain) : null;
}
