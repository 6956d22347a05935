import { cataloguesFor, type Library } from '../../library/library.js';
import { asList } from '../../library/scope.js';
import { combinations, type Facts, holds } from '../../library/variants.js';
import { once } from '../../once.js';
import type { PartsDocument } from '../../schema/generated/types.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

const catalogue = (values: string): string =>
  `kind: parts\nid: more\nfor: sample-van\nitems:\n  lamp: { name: lamp }${values.includes('A2') ? '' : ' # <-'}\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, fits: { engine: ${values} } }\n`;

export const rule: Rule = {
  name: 'variant/no-offer',
  severity: 'warning',
  looksAt: 'catalogues',
  finds: 'An item that is offered for some variants of a vehicle and not for the others.',
  why: 'The job for the other variant stops at the counter.',
  mend: 'Add an offer for the variant, or take the item out of the catalogue for it.',
  bad: catalogue('A1'),
  good: catalogue('[A1, A2]'),
  check(context, tell) {
    const offers = once(known, context.library, () => new OffersByVehicle(context.library));
    for (const one of context.catalogues)
      for (const id of asList(one.for))
        for (const item of Object.keys(one.items)) {
          const without = offers.variantWithout(id, item);
          if (!without || context.isUnread('parts')) continue;
          const words = Object.entries(without)
            .map(([name, value]) => `${name} = ${value}`)
            .join(', ');
          tell({
            span: spanOf(one.items, item, 'key'),
            message: `There is no offer of \`${item}\` for \`${id}\` with ${words}. Add one with \`fits:\`.`,
          });
        }
  },
};

type Offer = PartsDocument['offers'][number];

const known = new WeakMap<Library, OffersByVehicle>();

/** What all catalogues offer for each vehicle; each question is answered once. */
class OffersByVehicle {
  private readonly offers = new Map<string, ReadonlyMap<string, readonly Offer[]>>();
  private readonly lacking = new Map<string, Facts | null>();

  constructor(private readonly library: Library) {}

  /** A variant of the vehicle for which nothing contains an item that something contains for others. */
  variantWithout(vehicle: string, item: string): Facts | null {
    return once(this.lacking, `${vehicle} ${item}`, () => {
      if (cataloguesFor(this.library, vehicle).some(({ offers }) => isDamaged(offers))) return null;
      const features = this.library.vehicles.get(vehicle)?.features ?? {};
      const offers = once(this.offers, vehicle, () => this.offersFor(vehicle)).get(item) ?? [];
      const asked = [...new Set(offers.flatMap((offer) => Object.keys(offer.fits ?? {})))].filter((name) => Object.hasOwn(features, name));
      if (asked.length === 0 || offers.some((offer) => !offer.fits)) return null;
      return combinations(features, asked).find((facts) => offers.every((offer) => holds(offer.fits, facts) !== true)) ?? null;
    });
  }

  private offersFor(vehicle: string): ReadonlyMap<string, readonly Offer[]> {
    const byItem = new Map<string, Offer[]>();
    for (const { offers } of cataloguesFor(this.library, vehicle))
      for (const offer of offers) for (const item of Object.keys(offer.contains)) once(byItem, item, () => []).push(offer);
    return byItem;
  }
}
