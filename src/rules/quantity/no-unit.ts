import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/no-unit',
  severity: 'error',
  finds: 'A number without its unit.',
  why: '35 of what? The tool never guesses a torque.',
  mend: 'Write the unit.',
  bad: procedure('steps:\n  - inspect: leaks\n    unattended: 20 # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    unattended: 20 min\n'),
};
