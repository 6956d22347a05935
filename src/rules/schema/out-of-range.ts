import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/out-of-range',
  severity: 'error',
  finds: 'A number, list or text beyond its limits.',
  why: 'It is a slip of the hand.',
  mend: 'Write one within the limits.',
  bad: procedure('steps:\n  - inspect: leaks\n    people: 40 # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    people: 2\n'),
};
