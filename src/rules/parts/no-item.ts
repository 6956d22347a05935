import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/no-item',
  severity: 'error',
  finds: 'A part that goes on new and names no item to order.',
  why: 'It cannot be ordered.',
  mend: 'Write `item:` at the part.',
  bad: job('', 'steps:\n  - renew: cover # <-\n'),
  good: job('', 'steps:\n  - remove: cover\n  - renew: pump\nclose-up:\n  - fit: cover\n'),
};
