import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/unknown-drain',
  severity: 'error',
  finds: 'A fluid is drained through openings that the vehicle profile does not know as a way to drain it.',
  why: 'How much comes out decides how much goes in.',
  mend: 'Open the openings of one of its `drains:`, or add the way.',
  bad: job('', 'steps:\n  - drain: coolant # <-\nclose-up:\n  - fill: coolant\n'),
  good: job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
};
