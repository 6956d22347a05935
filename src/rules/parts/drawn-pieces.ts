import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

const drum = (contains: string, mark = ''): string =>
  `kind: parts\nid: more\nitems: { oil: { name: oil }, seal: { name: seal } }\noffers:\n  - { number: "X-1", contains: { ${contains} }, price: 200.00, drawn: true }${mark}\n`;

export const rule: Rule = {
  name: 'parts/drawn-pieces',
  severity: 'error',
  looksAt: 'catalogues',
  finds: 'Something that is drawn from (`drawn:`) and does not hold litres or grams of one item.',
  why: 'Nobody can say what a part of it costs.',
  mend: 'Say how much of one fluid it holds: `contains: { engine-oil: 200 L }`. What is sold in pieces is bought whole.',
  bad: drum('seal: 10', ' # <-'),
  good: drum('oil: 200 L'),
  check(context, tell) {
    for (const catalogue of context.catalogues)
      for (const offer of catalogue.offers) {
        const amounts = Object.values(offer.contains);
        if (!offer.drawn || (amounts.length === 1 && amounts.every((one) => 'quantity' in one))) continue;
        tell({
          span: spanOf(offer, 'contains'),
          message: `${offer.number} is drawn from, and does not hold litres or grams of one item. Write \`contains: { engine-oil: 200 L }\`, or take \`drawn:\` away: then it is bought whole.`,
        });
      }
  },
};
