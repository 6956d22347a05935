import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/unknown-value',
  severity: 'error',
  finds: 'A value that is not one of those allowed.',
  why: 'It would be ignored.',
  mend: 'Choose one of those named.',
  bad: procedure('steps:\n  - inspect: leaks\n    wear: [glove] # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    wear: [gloves]\n'),
};
