import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/empty',
  severity: 'error',
  finds: 'A file without content.',
  why: 'Somebody meant to write something.',
  mend: 'Write it, or delete the file.',
  bad: { 'procedures/empty.yaml': '# <-\n' },
  good: procedure('steps:\n  - inspect: leaks\n'),
};
