import { notOne } from '../quantity/extent.js';
import { type Amount, parseQuantity, whyNot } from '../quantity/quantity.js';
import { withPoint } from '../quantity/unread.js';
import { D, type Dimension } from '../quantity/units.js';
import type { Form } from './form.js';
import type { SchemaNode } from './node.js';

/** An offer contains a volume, or a mass. */
const amountOf = (text: string): Dimension => {
  const read = parseQuantity(text, 'mass');
  return read.ok || read.problem === 'out-of-range' ? 'mass' : 'volume';
};

/** Why a figure cannot be read. */
export class Unreadable {
  constructor(
    readonly rule: string,
    readonly message: string,
    /** What it says, as it is written here. */
    readonly as?: string,
  ) {}
}

export type Scalar = string | number | boolean | null;

type Figure = Pick<SchemaNode, 'quantity' | 'signed' | 'extent' | 'examples'> | Form;

/**
 * What a scalar means whose schema asks for a figure: a quantity, an amount, a number that keeps all its digits.
 * @param written the same, as its author wrote it
 */
export function figureOf(value: Scalar, written: string, figure: Figure, key: string | number): unknown {
  const { quantity, signed, extent } = figure;
  if (quantity === 'money' || quantity === 'factor') return decimalOf(written.trim(), quantity, key);
  if (quantity === 'amount' && typeof value === 'number') return { pieces: value } satisfies Amount;
  const text = String(value);
  const dimension = quantity === 'amount' ? amountOf(text) : (quantity as Dimension | 'any');
  const read = parseQuantity(text, dimension, signed);
  const [example] = (!read.ok && 'examples' in figure && figure.examples) || [];
  const result = example === undefined ? read : whyNot(text, dimension, signed ?? false, String(example));
  const said = result.ok ? result.quantity : result.meant;
  const wrong = extent && said && notOne(said, extent);
  if (wrong) return new Unreadable('quantity/not-one', wrong);
  if (!result.ok) return new Unreadable(`quantity/${result.problem}`, quantity === 'amount' ? noAmount(result) : result.message, result.as);
  return quantity === 'amount' ? ({ quantity: result.quantity } satisfies Amount) : result.quantity;
}

/** What is contained is counted, or measured. */
const noAmount = ({ problem, message }: { readonly problem: string; readonly message: string }): string =>
  problem === 'unknown-unit' || problem === 'unreadable' || problem === 'no-unit'
    ? `${message.replace(/^(“[^”]*”).*$/, '$1')} is no amount. Write how many there are in it (2), or how much with its unit (5 L, 100 g).`
    : message;

const plain = /^\d{1,12}(\.\d{1,6})?$/;

function decimalOf(written: string, what: 'money' | 'factor', key: string | number): unknown {
  const [comma, whole = '', digits = ''] = /^(\d+|\d{1,3}(?:\.\d{3})+),(\d+)$/.exec(written) ?? [];
  if (comma)
    return new Unreadable('quantity/decimal-comma', `“${written}” has a decimal comma. Write a point: ${withPoint(whole, digits)}.`);
  if (/^-\d/.test(written))
    return new Unreadable('quantity/out-of-range', `“${written}” is below zero: write \`${key}\` as a number of zero or more.`);
  if (!plain.test(written)) {
    const alone = written.replace(/^[^\d.]+|[^\d]+$/g, '');
    const write =
      plain.test(alone) && alone !== written
        ? `the number alone: ${alone}`
        : `a plain number such as ${what === 'money' ? '74.50' : '1.25'}`;
    return new Unreadable('quantity/unreadable', `“${written}” cannot be \`${key}\`. Write ${write}.`);
  }
  return new D(written);
}
