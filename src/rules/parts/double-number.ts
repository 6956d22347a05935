import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/double-number',
  severity: 'error',
  looksAt: 'catalogues',
  finds: 'One part number offered twice.',
  why: 'Two prices for one part; the cheaper one is the old one.',
  mend: 'Delete one of the two.',
  bad: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: "X-1", contains: { seal: 1 }, price: 2.00 }\n  - { number: "X-1", contains: { seal: 1 }, price: 3.00 } # <-\n',
  good: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: "X-1", contains: { seal: 1 }, price: 2.00 }\n',
  check(context, tell) {
    const seen = new Map<string, object>();
    for (const catalogue of context.catalogues) {
      for (const offer of catalogue.offers) {
        const first = seen.get(offer.number);
        if (first)
          tell({
            span: spanOf(offer, 'number'),
            message: `The number ${offer.number} is offered already. Delete one of the two.`,
            related: [{ span: spanOf(first, 'number'), message: 'the first one' }],
          });
        else seen.set(offer.number, offer);
      }
    }
  },
};
