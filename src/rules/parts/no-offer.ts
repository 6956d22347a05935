import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/no-offer',
  severity: 'error',
  finds: 'An item that is needed and that nothing in the catalogues contains for this vehicle.',
  why: 'It is missing when the part is ready to go on.',
  mend: 'Add the offer.',
  bad: {
    ...job('', 'parts: { bracket: { item: bracket } } # <-\nsteps:\n  - renew: bracket\n'),
    'parts/more.yaml': 'kind: parts\nid: more\nitems: { bracket: { name: bracket } }\noffers: []\n',
  },
  good: job('', 'steps:\n  - remove: cover\n  - renew: pump\nclose-up:\n  - fit: cover\n'),
};
