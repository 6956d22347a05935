import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/decimal-comma',
  severity: 'error',
  finds: 'A decimal comma.',
  why: '7,8 is seven point eight to one reader and two numbers to another.',
  mend: 'Write a point.',
  bad: procedure('steps:\n  - inspect: leaks\n    unattended: 1,5 h # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    unattended: 1.5 h\n'),
};
