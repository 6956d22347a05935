import type { Decimal } from 'decimal.js';
import { roundMoney } from '../price/money.js';
import type { Offer } from './cover.js';

export interface Drawn {
  readonly id: string;
  /** Rounded to the currency, half up. */
  readonly cost: Decimal;
}

/**
 * The drum or cylinder that a fluid or a charge is drawn from most cheaply: price × amount ÷ what it holds.
 * @param amount millilitres or grams, in the unit of the offers
 * @param drums offers that are drawn from
 * @returns null where none holds it; of two that cost the same the one with the smaller id
 */
export function cheapestDrawn(item: string, amount: number, drums: readonly Offer[], currency: string): Drawn | null {
  let best: Drawn | null = null;
  for (const { id, price, contains } of drums) {
    const holds = contains.get(item) ?? 0;
    if (holds <= 0) continue;
    const cost = roundMoney(price.times(amount).div(holds), currency);
    if (!best || cost.lt(best.cost) || (cost.eq(best.cost) && id < best.id)) best = { id, cost };
  }
  return best;
}
