import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/no-value',
  severity: 'error',
  finds: 'A key without a value.',
  why: 'Somebody meant to write something.',
  mend: 'Write the value, or delete the key.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Look.\n'),
};
