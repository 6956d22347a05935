import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/syntax',
  severity: 'error',
  finds: 'A file that is not YAML: indentation, quotes, brackets, a second document.',
  why: 'Nothing in it can be relied on.',
  mend: 'Mend the line named; lines that belong together start in the same column.',
  bad: procedure('steps:\n  - inspect: leaks\n   says: Look. # <-\n'),
  good: procedure('steps:\n  - inspect: "leaks"\n'),
};
