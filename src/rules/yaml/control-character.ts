import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/control-character',
  severity: 'error',
  finds:
    'A character that no editor shows: a control character, a mark of another direction of writing, a soft hyphen, a space without width.',
  why: 'What is seen and what is read are two things.',
  mend: 'Delete the character at the place named.',
  bad: procedure('steps:\n  - inspect: lea\u0007ks # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n'),
};
