import type { Decimal } from 'decimal.js';
import { convert, unitOf } from '../quantity/units.js';
import type { Fluid } from '../schema/generated/compiled-job.js';
import type { JobContext } from './context.js';
import { plainNumber } from './format.js';

type InShopUnit = NonNullable<Fluid['inShopUnit']>;

/** The unit of the shop's jugs and bottles, where that is not the litre. */
export const shopUnitOf = ({ shop }: JobContext): string | null =>
  shop['volume-unit'] === undefined || shop['volume-unit'] === 'L' ? null : shop['volume-unit'];

/**
 * The same amounts by the jugs and bottles of the shop.
 * @param amounts @param limits in L; the limits are of what comes out
 */
export function inShopUnit(
  context: JobContext,
  amounts: Readonly<Record<'capacity' | 'drained' | 'recovered' | 'residue' | 'pour', Decimal>>,
  limits: { readonly low: Decimal | null; readonly high: Decimal | null },
  mix: { readonly concentrate: Decimal; readonly water: Decimal; readonly tableInShopUnit: InShopUnit['table'] | null } | null,
): { readonly inShopUnit?: InShopUnit } {
  const unit = shopUnitOf(context);
  if (unit === null) return {};
  const figure = (amount: Decimal): string => plainNumber(convert(amount, unitOf('L'), unitOf(unit)), 2);
  const said = (amount: Decimal): string => `${figure(amount)} ${unit}`;
  const { capacity, drained, recovered, residue, pour } = amounts;
  const { low, high } = limits;
  return {
    inShopUnit: {
      unit,
      capacity: said(capacity),
      drained: said(drained),
      ...(low && high && { tolerance: context.words.limit.range(figure(low), figure(high), unit) }),
      recovered: said(recovered),
      residue: said(residue),
      pour: said(pour),
      ...(mix && { concentrate: said(mix.concentrate), water: said(mix.water) }),
      ...(mix?.tableInShopUnit && { table: mix.tableInShopUnit }),
    },
  };
}
