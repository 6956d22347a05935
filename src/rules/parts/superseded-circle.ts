import { supersession } from '../../resolve/parts/supersession.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/superseded-circle',
  severity: 'warning',
  finds: 'Part numbers that supersede each other in a circle.',
  why: 'Nobody can tell which one is current; the cheaper one is bought.',
  mend: 'Ask the supplier which number is current, and delete the other.',
  bad: {
    'parts/more.yaml':
      'kind: parts\nid: more\nitems: { lamp: { name: lamp } }\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-2"] } # <-\n  - { number: "L-2", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-1"] }\n',
  },
  good: {
    'parts/more.yaml':
      'kind: parts\nid: more\nitems: { lamp: { name: lamp } }\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-2"] }\n  - { number: "L-2", contains: { lamp: 1 }, price: 4.00 }\n',
  },
  *compare({ library }) {
    const offers = [...library.catalogues.values()].flatMap((catalogue) => catalogue.offers);
    const { circles } = supersession(offers.map((offer) => ({ number: offer.number, supersedes: offer.supersedes ?? [] })));
    for (const circle of circles) {
      const first = offers.find((offer) => offer.number === circle[0]);
      if (first?.supersedes)
        yield {
          span: spanOf(first, 'supersedes'),
          message: `${circle.join(', ')} supersede each other. Ask which number is current and delete the other; until then the cheaper one is bought.`,
        };
    }
  },
};
