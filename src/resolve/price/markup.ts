import type { Decimal } from 'decimal.js';
import { percentOf, roundMoney } from './money.js';

/** A band of cost prices, up to and with `upTo` (null: all above), and its markup in %. */
export interface Band {
  readonly upTo: Decimal | null;
  readonly markup: Decimal;
}

/**
 * Selling price of one piece: cost price and the markup of the first band that holds it, rounded to the currency.
 * Without a band that holds it, the cost price.
 * @param cost without tax, ≥ 0
 */
export function sellingPrice(cost: Decimal, bands: readonly Band[], currency: string): Decimal {
  const band = bands.find((one) => one.upTo === null || cost.lte(one.upTo));
  return band ? roundMoney(cost.plus(percentOf(cost, band.markup)), currency) : cost;
}
