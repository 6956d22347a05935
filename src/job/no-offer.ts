import { didYouMean, Names, nearest } from '../findings/suggest.js';
import { cataloguesAstray, cataloguesFor, type Library, unreadKinds } from '../library/library.js';
import { asList } from '../library/scope.js';
import { type Facts, holds } from '../library/variants.js';
import { isDamaged } from '../schema/origin.js';
import type { PartsDocument, VehicleDocument } from '../library/document.js';
import { once } from '../once.js';
import type { Plan } from '../plan/plan.js';
import type { When } from '../schema/generated/types.js';
import type { Span } from '../source/source.js';
import type { JobContext } from './context.js';
import { pinned } from './joints.js';

/** Tells of an item that no catalogue has. */
export function unknownItem(item: string, known: Names): string {
  const meant = didYouMean(item, known);
  return `No parts catalogue has an item \`${item}\`.${meant} ${meant ? 'Else add' : 'Add'} it under \`items:\`.`;
}

const allItems = new WeakMap<Library, Names>();

/** The items of all catalogues. */
const itemsIn = (library: Library): Names =>
  once(allItems, library, () => new Names(library.standing.flatMap(({ card }) => card?.items ?? [])));

const nameable = new WeakMap<Plan, Names>();

/** What a part may name: an item, or one that is chosen later. */
const nameableIn = ({ scope }: Plan, known: Names): Names =>
  scope.choices.size === 0 ? known : new Names([...known, ...Array.from(scope.choices.values(), ({ item }) => item ?? '')]);

/** Of catalogues that may be meant for any vehicle, as they name one that nobody knows, and that is told. */
interface Astray {
  /** What they offer. */
  readonly items: ReadonlySet<string>;
  /** Which catalogues these are, and what they have, as rules ask for it. */
  readonly names: readonly string[];
}

const astray = new WeakMap<Library, Astray>();

const astrayIn = (library: Library): Astray =>
  once(astray, library, () => {
    const catalogues = cataloguesAstray(library);
    const vehicles = new Set(catalogues.flatMap(({ for: said }) => asList(said)));
    return { items: new Set(containedIn(catalogues)), names: ['all astray', ...Array.from(vehicles, (one) => `catalogues ${one}`)] };
  });

const slips = new WeakMap<readonly PartsDocument[], ReadonlySet<string>>();

/** What offers may be of that contain something which nobody knows: it may be a slip, and is told. */
const meantBySlips = (catalogues: readonly PartsDocument[], known: Names): ReadonlySet<string> =>
  once(slips, catalogues, () => new Set(containedIn(catalogues).flatMap((one) => (known.has(one) ? [] : (nearest(one, known) ?? [])))));

const containedIn = (catalogues: readonly PartsDocument[]): string[] =>
  catalogues.flatMap(({ offers }) => offers.flatMap(({ contains }) => Object.keys(contains)));

/**
 * Tells that no offer contains an item for this vehicle, unless something else is told that may be why.
 * @param named where the item is named; null where the name stands for one that is chosen later
 */
export function tellNoOffer(context: JobContext, item: string, message: string, span: Span, named: Span | null = span): void {
  const { library, vehicle, plan } = context;
  const catalogues = cataloguesFor(library, vehicle.id);
  const offers = catalogues.map((catalogue) => catalogue.offers);
  // What a catalogue with a fault in it lacks may be just what could not be read.
  if (unreadKinds(library).includes('parts') || offers.some(isDamaged)) return;
  const known = itemsIn(library);
  const { items, names } = astrayIn(library);
  context.asks('all items', ...names);
  if (items.has(item) || meantBySlips(catalogues, known).has(item)) return;
  if (named && known.size > 0 && !known.has(item)) {
    context.report(
      'parts/unknown-item',
      unknownItem(
        item,
        once(nameable, plan, () => nameableIn(plan, known)),
      ),
      named,
    );
    return;
  }
  const perhaps = offers.flat().find(({ contains, fits }) => fits && Object.hasOwn(contains, item) && mayFit(fits, vehicle, plan.facts));
  if (perhaps?.fits) pinned(context, perhaps.fits, item);
  else context.report('parts/no-offer', message, span, 'error', item);
}

/** Whether it only takes a feature of the vehicle, which the job does not say, for an offer to fit. One of other vehicles says nothing. */
const mayFit = (fits: When, vehicle: VehicleDocument, facts: Facts): boolean =>
  holds(fits, facts) === 'unknown' &&
  Object.keys(fits).every((name) => Object.hasOwn(facts, name) || vehicle.features?.[name] !== undefined);
