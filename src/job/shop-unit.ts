import type { Decimal } from 'decimal.js';
import { inUnit, type Quantity } from '../quantity/quantity.js';
import { convert, shownUnit, type Unit, unitOf } from '../quantity/units.js';
import type { Charge, Fluid } from '../schema/generated/compiled-job.js';
import type { JobContext } from './context.js';
import { plainNumber, quantityText } from './format.js';

type InShopUnit = NonNullable<Fluid['inShopUnit']>;

/** The unit of the shop's jugs and bottles, where that is not the litre. */
export const shopUnitOf = ({ shop }: JobContext): string | null =>
  shop['volume-unit'] === undefined || shop['volume-unit'] === 'L' ? null : shop['volume-unit'];

/** Units of the metric system, and of the sheets where nothing else is asked for. */
const metric: ReadonlySet<string> = new Set(['L', 'mL', 'cL', 'dL', 'mm³', 'g', 'kg', 't']);

interface Standing {
  readonly unit: string;
  /** It stands before the litres or grams: it is the shop's. */
  readonly leads: boolean;
  /** It stands for itself: it is as it was written. */
  readonly alone: boolean;
}

/** The unit in which amounts stand beside litres or grams, if any: the shop's, else that in which they were written. */
function standingOf(shop: string | null, written: Unit): Standing | null {
  const symbol = shownUnit(written);
  if (shop !== null) return { unit: shop, leads: true, alone: symbol === shop };
  return metric.has(symbol) ? null : { unit: symbol, leads: false, alone: false };
}

/** An amount in another unit than it is known in, as a number; where nothing else is said with two places, or of little with three. */
function figureIn(unit: string, amount: Decimal, from: string, places?: number): string {
  const value = convert(amount, unitOf(from), unitOf(unit));
  return plainNumber(value, places ?? (value.abs().lt('0.1') ? 3 : 2));
}

/**
 * The same amounts by the jugs and bottles of the shop, else as they were written.
 * @param written the unit of the profile
 * @param amounts @param limits in L; the limits are of what comes out
 */
export function inShopUnit(
  context: JobContext,
  written: Unit,
  amounts: Readonly<Record<'capacity' | 'drained' | 'recovered' | 'residue' | 'pour', Decimal>>,
  limits: Limits,
  mix: { readonly concentrate: Decimal; readonly water: Decimal; readonly tableInShopUnit: InShopUnit['table'] | null } | null,
): { readonly inShopUnit?: InShopUnit } {
  const standing = standingOf(shopUnitOf(context), written);
  if (standing === null) return {};
  const { unit } = standing;
  const figure = (amount: Decimal): string => figureIn(unit, amount, 'L');
  const said = (amount: Decimal): string => `${figure(amount)} ${unit}`;
  const { capacity, drained, recovered, residue, pour } = amounts;
  const { low, high } = limits;
  return {
    inShopUnit: {
      ...standing,
      capacity: said(capacity),
      drained: said(drained),
      ...(low && high && { tolerance: context.words.limit.range(figure(low), figure(high), unit) }),
      ...(low && { low: figure(low) }),
      ...(high && { high: figure(high) }),
      recovered: said(recovered),
      residue: said(residue),
      pour: said(pour),
      ...(mix && { concentrate: said(mix.concentrate), water: said(mix.water) }),
      ...(mix?.tableInShopUnit && { table: mix.tableInShopUnit }),
    },
  };
}

/** As far as they are given. */
interface Limits {
  readonly low: Decimal | null;
  readonly high: Decimal | null;
}

/** An amount as the shop's jugs and bottles show it. @param amount in L */
export function volumeInShopUnit(context: JobContext, amount: Decimal): { readonly inShopUnit?: string } {
  const unit = shopUnitOf(context);
  return unit === null ? {} : { inShopUnit: `${figureIn(unit, amount, 'L')} ${unit}` };
}

/** Less than so much is counted in fluid ounces where the shop has US units, mL. */
const little = 100;

/** What is bought or left over, as the shop's bottles and its station show it. @param amount in mL, or in g of what is bought by mass */
export function boughtInShopUnit(context: JobContext, amount: Decimal, massed: boolean): { readonly inShopUnit?: string } {
  if (massed) {
    const { 'mass-unit': unit = 'g' } = context.shop;
    return unit === 'g' ? {} : { inShopUnit: massIn(unit, amount) };
  }
  if (amount.lt(little)) return hasUsUnits(context) ? { inShopUnit: inFluidOunces(amount) } : {};
  return volumeInShopUnit(context, amount.div(1000));
}

const hasUsUnits = (context: JobContext): boolean => shopUnitOf(context)?.startsWith('US ') === true;
const inFluidOunces = (amount: Decimal): string => `${figureIn('US fl oz', amount, 'mL')} US fl oz`;

/** A volume that somebody wrote, as it stands on paper: in the shop's unit, with what was written beside it where that is another. */
export function volumeText(context: JobContext, written: Quantity): string {
  const unit = shopUnitOf(context);
  const text = quantityText(written, context.words);
  return unit === null || shownUnit(written.unit) === unit ? text : `${figureIn(unit, inUnit(written, 'L'), 'L')} ${unit} (${text})`;
}

/** What a scale or station calls a unit of mass that has another reading elsewhere. */
const masses: Readonly<Record<string, string>> = { oz: 'oz(mass)', lb: 'lb(mass)' };

/** Grams as a number of another unit: a station shows hundredths of a pound and of an ounce, and grams as thousandths of a kilogram. */
const massFigure = (unit: string, amount: Decimal): string => figureIn(masses[unit] ?? unit, amount, 'g', unit === 'kg' ? 3 : 2);
const massIn = (unit: string, amount: Decimal): string => `${massFigure(unit, amount)} ${unit}`;

/**
 * The same masses as the refrigerant station of the shop shows them, else as they were written.
 * @param written the unit of the profile
 * @param amounts in g; what is not known is left out
 * @param limits of the charge, in g
 */
export function chargeInShopUnit(
  { shop, words }: JobContext,
  written: Unit,
  { charge, ...known }: { readonly charge: Decimal; readonly lost?: Decimal | undefined; readonly bottle?: Decimal | undefined },
  { low, high }: Limits,
): { readonly inShopUnit?: NonNullable<Charge['inShopUnit']> } {
  const { 'mass-unit': asked = 'g' } = shop;
  const standing = standingOf(asked === 'g' ? null : asked, written);
  if (standing === null) return {};
  const { unit } = standing;
  const figure = (amount: Decimal): string => massFigure(unit, amount);
  const said = (amount: Decimal): string => massIn(unit, amount);
  return {
    inShopUnit: {
      ...standing,
      charge: `${said(charge)}${low && high ? ` (${words.limit.range(figure(low), figure(high), unit)})` : ''}`,
      ...(low && { low: figure(low) }),
      ...(high && { high: figure(high) }),
      ...(known.lost && { lost: said(known.lost) }),
      ...(known.bottle && { bottle: said(known.bottle) }),
    },
  };
}

type Oil = NonNullable<Charge['oil']>;

/** The oil of a charge in fluid ounces, where the shop's bottles have US marks. @param amounts in mL */
export function oilInShopUnit(
  context: JobContext,
  { recovered, parts, total }: Readonly<Record<'recovered' | 'parts' | 'total', Decimal>>,
): Pick<Oil, 'inShopUnit'> {
  if (!hasUsUnits(context)) return {};
  return { inShopUnit: { recovered: inFluidOunces(recovered), parts: inFluidOunces(parts), total: inFluidOunces(total) } };
}
