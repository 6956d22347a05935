import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'control/no-reason',
  severity: 'error',
  finds: 'An allowance without a reason.',
  why: 'Who comes after must know why.',
  mend: 'Write the reason after the rule, with a dash between.',
  bad: procedure('steps:\n  - inspect: leaks\n    # baywright: allow step/vague # <-\n    says: Level between the marks.\n'),
  good: procedure('steps:\n  - inspect: leaks\n    # baywright: allow step/vague — the book says so\n    says: Top up as required.\n'),
};
