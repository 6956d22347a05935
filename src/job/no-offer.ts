import { cataloguesFor, unreadKinds } from '../library/library.js';
import { type Facts, holds } from '../library/variants.js';
import { isDamaged } from '../schema/origin.js';
import type { VehicleDocument } from '../library/document.js';
import type { When } from '../schema/generated/types.js';
import type { Span } from '../source/source.js';
import type { JobContext } from './context.js';
import { pinned } from './joints.js';

/** Tells that no offer contains an item for this vehicle, unless something else is told that may be why. */
export function tellNoOffer(context: JobContext, item: string, message: string, span: Span): void {
  const { library, vehicle, plan } = context;
  const offers = cataloguesFor(library, vehicle.id).map((catalogue) => catalogue.offers);
  // What a catalogue with a fault in it lacks may be just what could not be read.
  if (unreadKinds(library).includes('parts') || offers.some(isDamaged)) return;
  const perhaps = offers.flat().find(({ contains, fits }) => fits && Object.hasOwn(contains, item) && mayFit(fits, vehicle, plan.facts));
  if (perhaps?.fits) pinned(context, perhaps.fits, item);
  else context.report('parts/no-offer', message, span, 'error', item);
}

/** Whether it only takes a feature of the vehicle, which the job does not say, for an offer to fit. One of other vehicles says nothing. */
const mayFit = (fits: When, vehicle: VehicleDocument, facts: Facts): boolean =>
  holds(fits, facts) === 'unknown' &&
  Object.keys(fits).every((name) => Object.hasOwn(facts, name) || vehicle.features?.[name] !== undefined);
