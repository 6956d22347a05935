import { nominalOf, type Quantity } from './quantity.js';
import { shownUnit } from './units.js';

/**
 * What a quantity may be where it stands: one value alone, one with its tolerance or range, one that is enough (no `max`), one
 * that is the most (no `min`). Else it may be anything.
 */
export type Extent = 'value' | 'band' | 'least' | 'most';

/** Why a quantity cannot stand there, and what to write; null where it can. */
export function notOne(quantity: Quantity, extent: Extent): string | null {
  const { low, high, nominal, unit, text } = quantity;
  const value = `${nominalOf(quantity).toString()} ${shownUnit(unit)}`;
  const isMost = low === null && high !== null;
  const isLeast = low !== null && high === null;
  if (extent === 'least')
    return isMost ? `“${text}” says when it is over, and here stands how long it takes at least. Write ${value}.` : null;
  if (extent === 'most') return isLeast ? `“${text}” says the least, and here stands the most. Write ${value}.` : null;
  if (isMost || isLeast)
    return extent === 'value'
      ? `“${text}” is a limit, and one value belongs here. Write ${value}, if that is it.`
      : `“${text}” is a limit, and nothing can be set or poured by it. Write the value itself, ${value}, or a range with two dots.`;
  if (extent === 'band' || low === null) return null;
  return nominal === null
    ? `“${text}” is a range, and one value belongs here. Write which it is, for example ${value}.`
    : `“${text}” has a tolerance, and one value belongs here. Write ${value}.`;
}
