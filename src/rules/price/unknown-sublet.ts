import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'price/unknown-sublet',
  severity: 'error',
  finds: 'Sublet work that the shop has no price for.',
  why: 'The quote would leave it out.',
  mend: 'Add it under `sublet: prices:`.',
  bad: job('', 'steps:\n  - send: pump\n    for: testing # <-\n'),
  good: {
    ...job('', 'steps:\n  - send: pump\n    for: testing\n'),
    'shop.yaml':
      'kind: shop\nid: sample-shop\nname: Sample shop\ncurrency: EUR\nrates: { mechanic: 60.00 }\ntaxes: { standard: 20 % }\nvalidity: 30 d\nsublet: { prices: { testing: 10.00 } }\ntools: { gauge: { type: angle-gauge } }\n',
  },
};
