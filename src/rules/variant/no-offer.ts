import { asList } from '../../library/scope.js';
import { combinations, holds } from '../../library/variants.js';
import type { PartsDocument } from '../../schema/generated/types.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

const catalogue = (values: string): string =>
  `kind: parts\nid: more\nfor: sample-van\nitems:\n  lamp: { name: lamp }${values.includes('A2') ? '' : ' # <-'}\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, fits: { engine: ${values} } }\n`;

export const rule: Rule = {
  name: 'variant/no-offer',
  severity: 'warning',
  finds: 'An item that is offered for some variants of a vehicle and not for the others.',
  why: 'The job for the other variant stops at the counter.',
  mend: 'Add an offer for the variant, or take the item out of the catalogue for it.',
  bad: catalogue('A1'),
  good: catalogue('[A1, A2]'),
  *check(context) {
    for (const one of context.catalogues) {
      for (const id of asList(one.for)) {
        const features = context.library.vehicles.get(id)?.features ?? {};
        for (const item of Object.keys(one.items)) {
          const offers = offersOf(context.library.catalogues, id, item);
          const asked = [...new Set(offers.flatMap((offer) => Object.keys(offer.fits ?? {})))].filter((name) => features[name]);
          if (asked.length === 0 || offers.some((offer) => !offer.fits)) continue;
          const without = combinations(features, asked).find((facts) => offers.every((offer) => holds(offer.fits, facts) !== true));
          if (!without) continue;
          const words = Object.entries(without)
            .map(([name, value]) => `${name} = ${value}`)
            .join(', ');
          yield {
            span: spanOf(one.items, item, 'key'),
            message: `There is no offer of \`${item}\` for \`${id}\` with ${words}. Add one with \`fits:\`.`,
          };
        }
      }
    }
  },
};

const offersOf = (catalogues: readonly PartsDocument[], vehicle: string, item: string): PartsDocument['offers'] =>
  catalogues
    .filter((one) => one.for === undefined || asList(one.for).includes(vehicle))
    .flatMap((one) => one.offers.filter((offer) => Object.hasOwn(offer.contains, item)));
