import type { Charge, Fluid } from '../schema/generated/compiled-job.js';
import type { Blank } from './blocks.js';
import type { Setting } from './setting.js';

/** How the figures of another unit stand to those in litres or grams. */
type Standing = Pick<NonNullable<Fluid['inShopUnit']>, 'leads' | 'alone'>;

/** An amount, and the same in another unit in brackets. */
export const beside = ({ figure }: Setting, amount: string, other: string | undefined): string =>
  `${figure(amount)}${other === undefined ? '' : ` (${figure(other)})`}`;

/** The same of what has brackets already. */
const behind = ({ figure }: Setting, amount: string, other: string | undefined): string =>
  `${figure(amount)}${other === undefined ? '' : `; ${figure(other)}`}`;

/**
 * An amount as it is read in the bay: in the unit of the shop first, in that alone where it was written in it.
 * @param metric in litres or grams @param other in the unit that stands beside them
 */
function said(set: Setting, metric: string, other: string | undefined, standing: Standing | undefined, together = beside): string {
  if (other === undefined || standing === undefined) return set.figure(metric);
  if (standing.alone) return set.figure(other);
  return standing.leads ? together(set, other, metric) : together(set, metric, other);
}

/** An amount of a fluid. @param litres the figure alone @param other the same in the unit that stands beside it */
export const volume = (set: Setting, { inShopUnit }: Fluid, litres: string, other: string | undefined): string =>
  said(set, `${litres} L`, other, inShopUnit);

/** What a circuit takes by mass, with its tolerance. */
export const chargeOf = (set: Setting, { charge, inShopUnit }: Charge): string => said(set, charge, inShopUnit?.charge, inShopUnit, behind);

/** What of a charge had been lost. */
export const lostOf = (set: Setting, { lost, inShopUnit }: Charge): string | null => lost && said(set, lost, inShopUnit?.lost, inShopUnit);

/** What the bottle gains or gives. */
export const bottleOf = (set: Setting, { bottle, inShopUnit }: Charge): string | null =>
  bottle && said(set, `${bottle} g`, inShopUnit?.bottle, inShopUnit);

/** The unit in which a mass is written down: that of the shop's refrigerant station. */
export const massUnitOf = ({ inShopUnit }: Charge): string => (inShopUnit?.leads ? inShopUnit.unit : 'g');

/** What may come out of a circuit, as a range. */
export const toleranceOf = (set: Setting, { tolerance, inShopUnit }: Fluid): string | null =>
  tolerance && said(set, tolerance, inShopUnit?.tolerance, inShopUnit, behind);

/** The unit of a blank, and within what its number should lie, if the profile says so. */
type Filled = Pick<Blank, 'unit' | 'limit'>;

/** Of the blank for what came out. */
export const whatComes = (set: Setting, fluid: Fluid): Filled => ({ unit: unitOf(fluid), ...within(fluid, toleranceOf(set, fluid)) });

/** Of the blank for what was poured: what comes out is missing; what is poured back is what came. */
export const whatGoesIn = (set: Setting, fluid: Fluid): Filled => (fluid.pouredBack ? { unit: unitOf(fluid) } : whatComes(set, fluid));

/** Of the blank for what was charged. */
export const whatIsCharged = (set: Setting, charge: Charge): Filled => ({
  unit: massUnitOf(charge),
  ...within(charge, chargeOf(set, charge)),
});

/** What an amount should lie within. */
interface Bounds {
  readonly low?: string | null;
  readonly high?: string | null;
}

/** @param says the limits in words, as they stand above the blank */
function within(amount: Bounds & { readonly inShopUnit?: Bounds & Standing }, says: string | null): Pick<Blank, 'limit'> {
  const { low = null, high = null } = amount.inShopUnit?.leads ? amount.inShopUnit : amount;
  return says !== null && (low !== null || high !== null) ? { limit: { low, high, says } } : {};
}

/** What is mixed of concentrate and water. */
export const mixture = (set: Setting, fluid: Fluid, { concentrate, water }: NonNullable<Fluid['mix']>): string =>
  set.words.first.mixed(
    volume(set, fluid, Number(concentrate).toFixed(2), fluid.inShopUnit?.concentrate),
    volume(set, fluid, Number(water).toFixed(2), fluid.inShopUnit?.water),
  );

/** The unit in which an amount of a fluid is written down: that of the jugs and bottles of the shop. */
export const unitOf = ({ inShopUnit }: Fluid): string => (inShopUnit?.leads ? inShopUnit.unit : 'L');

/** Oil of a charge, with its unit. */
export const oilSize = (set: Setting, oil: NonNullable<Charge['oil']>, of: 'recovered' | 'parts' | 'total'): string =>
  said(set, `${oil[of]} mL`, oil.inShopUnit?.[of], { leads: true, alone: false });
