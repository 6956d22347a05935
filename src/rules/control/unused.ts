import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'control/unused',
  severity: 'warning',
  finds: 'An allowance for something that is not found at its line any more.',
  why: 'The next fault there would pass unseen.',
  mend: 'Delete the comment; `check --fix` does.',
  bad: procedure(
    'steps:\n  - inspect: leaks\n    # baywright: allow step/vague — the book says so # <-\n    says: Level between the marks.\n',
  ),
  good: procedure('steps:\n  - inspect: leaks\n    # baywright: allow step/vague — the book says so\n    says: Top up as required.\n'),
};
