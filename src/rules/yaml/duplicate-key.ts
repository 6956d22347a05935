import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/duplicate-key',
  severity: 'error',
  finds: 'The same key twice in one place.',
  why: 'Only one of the two can be meant, and readers of YAML disagree which.',
  mend: 'Delete one.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: One.\n    says: Two. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: One.\n'),
};
