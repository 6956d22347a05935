import type { Charge, Fluid } from '../schema/generated/compiled-job.js';
import type { Setting } from './setting.js';

/** An amount, and the same in the shop's own unit beside it. */
export const beside = ({ figure }: Setting, amount: string, inShopUnit: string | undefined): string =>
  `${figure(amount)}${inShopUnit === undefined ? '' : ` (${figure(inShopUnit)})`}`;

/** The same of an amount of a fluid. */
export const volume = (set: Setting, litres: string, inShopUnit: string | undefined): string => beside(set, `${litres} L`, inShopUnit);

/** The same of what has brackets already. */
const behind = ({ figure }: Setting, amount: string, inShopUnit: string | undefined): string =>
  `${figure(amount)}${inShopUnit === undefined ? '' : `; ${figure(inShopUnit)}`}`;

/** What a circuit takes by mass, with its tolerance. */
export const chargeOf = (set: Setting, { charge, inShopUnit }: Charge): string => behind(set, charge, inShopUnit?.charge);

/** What the bottle gains or gives. */
export const bottleOf = (set: Setting, { bottle, inShopUnit }: Charge): string | null =>
  bottle && beside(set, `${bottle} g`, inShopUnit?.bottle);

/** The unit in which a mass is written down: that of the shop's refrigerant station. */
export const massUnitOf = ({ inShopUnit }: Charge): string => inShopUnit?.unit ?? 'g';

/** What may come out of a circuit, as a range. */
export const toleranceOf = (set: Setting, { tolerance, inShopUnit }: Fluid): string | null =>
  tolerance && behind(set, tolerance, inShopUnit?.tolerance);

/** What is mixed of concentrate and water. */
export const mixture = (set: Setting, { inShopUnit }: Fluid, { concentrate, water }: NonNullable<Fluid['mix']>): string =>
  set.words.first.mixed(
    volume(set, Number(concentrate).toFixed(2), inShopUnit?.concentrate),
    volume(set, Number(water).toFixed(2), inShopUnit?.water),
  );

/** The unit in which an amount of a fluid is written down: that of the jugs and bottles of the shop. */
export const unitOf = ({ inShopUnit }: Fluid): string => inShopUnit?.unit ?? 'L';

/** Oil of a charge, with its unit. */
export const oilSize = (set: Setting, oil: NonNullable<Charge['oil']>, of: 'recovered' | 'parts' | 'total'): string =>
  beside(set, `${oil[of]} mL`, oil.inShopUnit?.[of]);
