import { unitsByDimension } from '../../quantity/units.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/unknown-unit',
  severity: 'error',
  finds: 'A unit that is not known.',
  why: 'It would be guessed.',
  mend: `Write one of those that are known (${unitsByDimension()}).`,
  bad: procedure('steps:\n  - inspect: leaks\n    unattended: 20 fortnights # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    unattended: 20 minutes\n'),
};
