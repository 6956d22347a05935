import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'control/unknown-rule',
  severity: 'error',
  finds: 'A severity or an allowance for a rule that does not exist.',
  why: 'It does nothing, and somebody relies on it.',
  mend: 'Correct the name; `baywright explain` lists all rules.',
  bad: procedure(
    'steps:\n  - inspect: leaks\n    # baywright: allow step/vgue — the book says so # <-\n    says: Level between the marks.\n',
  ),
  good: procedure('steps:\n  - inspect: leaks\n    # baywright: allow step/vague — the book says so\n    says: Top up as required.\n'),
};
