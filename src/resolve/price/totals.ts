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

/** A second tax on lines that have a first one: on their net amount, or (compound) on that with the first tax. */
export interface FurtherTax {
  readonly category: string;
  readonly rate: Decimal;
  /** Categories whose lines it is laid on. */
  readonly on: readonly string[];
  readonly compound: boolean;
}

/**
 * Net, tax per category and gross, as EN 16931 adds up (BR-CO-10, -13 to -17, BR-S-08): lines are rounded first, the
 * tax of a category is rounded once on the sum of its lines, totals of rounded amounts are not rounded again.
 * Further taxes are laid once on the sum of the categories they name, after the first taxes.
 * @param rates percent by category
 */
export function totalsOf(
  lines: readonly PricedLine[],
  rates: ReadonlyMap<string, Decimal>,
  currency: string,
  further: readonly FurtherTax[] = [],
): Totals {
  const net = sum(lines.map((line) => line.amount));
  const categories = [...new Set(lines.map((line) => line.tax))];
  const taxes = categories.map((category) => {
    const rate = rates.get(category) ?? new D(0);
    const base = sum(lines.filter((line) => line.tax === category).map((line) => line.amount));
    return { category, rate, base, tax: roundMoney(percentOf(base, rate), currency) };
  });
  const second = further.flatMap((one) => {
    const under = taxes.filter((tax) => one.on.includes(tax.category));
    if (under.length === 0) return [];
    const base = sum(under.map((tax) => (one.compound ? tax.base.plus(tax.tax) : tax.base)));
    return [{ category: one.category, rate: one.rate, base, tax: roundMoney(percentOf(base, one.rate), currency) }];
  });
  const all = [...taxes, ...second];
  return { net, taxes: all, gross: net.plus(sum(all.map((one) => one.tax))) };
}
