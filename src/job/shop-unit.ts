import type { Decimal } from 'decimal.js';
import { convert, unitOf } from '../quantity/units.js';
import type { Fluid } from '../schema/generated/compiled-job.js';
import type { JobContext } from './context.js';
import { plainNumber } from './format.js';

type InShopUnit = NonNullable<Fluid['inShopUnit']>;

/** The same amounts by the jugs and bottles of the shop. */
export function inShopUnit(
  { shop }: JobContext,
  mix: { readonly concentrate: Decimal; readonly water: Decimal } | null,
  amounts: Readonly<Record<'capacity' | 'drained' | 'recovered' | 'residue' | 'pour', Decimal>>,
): { readonly inShopUnit?: InShopUnit } {
  const unit = shop['volume-unit'] ?? 'L';
  if (unit === 'L') return {};
  const said = (amount: Decimal): string => `${plainNumber(convert(amount, unitOf('L'), unitOf(unit)), 2)} ${unit}`;
  const { capacity, drained, recovered, residue, pour } = amounts;
  return {
    inShopUnit: {
      unit,
      capacity: said(capacity),
      drained: said(drained),
      recovered: said(recovered),
      residue: said(residue),
      pour: said(pour),
      ...(mix && { concentrate: said(mix.concentrate), water: said(mix.water) }),
    },
  };
}
