import type { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';
import { percentOf, roundMoney, sum } from './money.js';

/** A priced line: its net amount (rounded already) and the tax category that applies. */
export interface PricedLine {
  readonly amount: Decimal;
  readonly tax: string;
}

export interface Totals {
  readonly net: Decimal;
  readonly taxes: readonly { readonly category: string; readonly rate: Decimal; readonly base: Decimal; readonly tax: Decimal }[];
  readonly gross: Decimal;
}

/**
 * Net, tax per category and gross, as EN 16931 adds up (BR-CO-10, -13 to -17, BR-S-08): lines are rounded first, the
 * tax of a category is rounded once on the sum of its lines, totals of rounded amounts are not rounded again.
 * @param rates percent by category
 */
export function totalsOf(lines: readonly PricedLine[], rates: ReadonlyMap<string, Decimal>, currency: string): Totals {
  const net = sum(lines.map((line) => line.amount));
  const categories = [...new Set(lines.map((line) => line.tax))];
  const taxes = categories.map((category) => {
    const rate = rates.get(category) ?? new D(0);
    const base = sum(lines.filter((line) => line.tax === category).map((line) => line.amount));
    return { category, rate, base, tax: roundMoney(percentOf(base, rate), currency) };
  });
  return { net, taxes, gross: net.plus(sum(taxes.map((one) => one.tax))) };
}
