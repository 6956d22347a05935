import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'price/unknown-waste',
  severity: 'warning',
  finds: "A waste class that the shop's waste list does not have.",
  why: 'The disposal is not paid, and perhaps not done.',
  mend: 'Add the class to the waste list, or correct the name.',
  bad: {
    ...job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
    'shop.yaml':
      'kind: shop\nid: sample-shop\nname: Sample shop\ncurrency: EUR\nrates: { mechanic: 60.00 }\ntaxes: { standard: 20 % }\nvalidity: 30 d\nwaste: { oil: { name: used oil } } # <-\ntools: { gauge: { type: angle-gauge } }\n',
  },
  good: job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
};
