import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/unknown-key',
  severity: 'error',
  finds: 'A key, verb or modifier that does not exist.',
  why: 'What is written under a wrong key is not printed.',
  mend: 'Correct it; the nearest one is named.',
  bad: procedure('steps:\n  - inspect: leaks\n    sayz: Look. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Look.\n'),
};
