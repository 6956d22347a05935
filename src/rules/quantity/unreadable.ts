import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/unreadable',
  severity: 'error',
  finds: 'A text that is no quantity.',
  why: 'It cannot be set, measured or billed.',
  mend: 'Write a number with its unit.',
  bad: procedure('steps:\n  - inspect: leaks\n    unattended: a while # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    unattended: 20 min\n'),
};
