import { refillReady } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/off-target',
  severity: 'warning',
  finds: 'A ready mixture that brings the system inside its range, but not to its target.',
  why: 'What is left in the system dilutes or strengthens what goes in.',
  mend: 'Say so to the customer, or pour concentrate and water.',
  bad: refillReady('40 % } # <-'),
  good: refillReady('50 % }'),
};
