import { refillReady } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/out-of-reach',
  severity: 'error',
  finds: 'A strength that what is drained cannot reach: too much of the old fluid stays in.',
  why: 'The sheet would promise a protection that the system does not have.',
  mend: 'Drain through more openings, change it more than once, or pour another mixture.',
  bad: refillReady('10 % } # <-'),
  good: refillReady('50 % }'),
};
