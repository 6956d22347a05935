import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'price/unknown-rate',
  severity: 'error',
  finds: 'A labour grade that the shop has no rate for.',
  why: 'The hours would be free.',
  mend: 'Add the rate, or correct the grade.',
  bad: {
    ...job('', 'labour: { look: { time: 0.2 h, grade: master } }\nsteps:\n  - inspect: leaks\n'),
    'shop.yaml':
      'kind: shop\nid: sample-shop\nname: Sample shop\ncurrency: EUR\nrates: { mechanic: 60.00 } # <-\ntaxes: { standard: 20 % }\nvalidity: 30 d\ntools: { gauge: { type: angle-gauge } }\n',
  },
  good: job('', 'labour: { look: { time: 0.2 h, grade: mechanic } }\nsteps:\n  - inspect: leaks\n'),
};
