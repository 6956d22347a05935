import { shownUnit } from './units.js';
import { nominalOf, type Quantity } from './quantity.js';

/** What a quantity may be where it stands: one value alone, or one with its tolerance or range. Else it may be a limit, too. */
export type Extent = 'value' | 'band';

/** Why a quantity cannot stand where a value is needed, and what to write; null where it can. */
export function notOne(quantity: Quantity, extent: Extent): string | null {
  const { low, high, nominal, unit, text } = quantity;
  const value = `${nominalOf(quantity).toString()} ${shownUnit(unit)}`;
  if ((low === null) !== (high === null))
    return extent === 'value'
      ? `“${text}” is a limit, and one value belongs here. Write ${value}, if that is it.`
      : `“${text}” is a limit, and nothing can be set or poured by it. Write the value itself, ${value}, or a range with two dots.`;
  if (extent === 'band' || low === null) return null;
  return nominal === null
    ? `“${text}” is a range, and one value belongs here. Write which it is, for example ${value}.`
    : `“${text}” has a tolerance, and one value belongs here. Write ${value}.`;
}
