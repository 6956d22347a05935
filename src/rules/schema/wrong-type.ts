import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/wrong-type',
  severity: 'error',
  finds: 'A list where a text belongs, a text where a list belongs.',
  why: 'It cannot be read.',
  mend: 'Write it in the form named.',
  bad: procedure('steps:\n  - inspect: leaks\n    count: many # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n'),
};
