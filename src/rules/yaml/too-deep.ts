import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/too-deep',
  severity: 'error',
  finds: 'Nesting, aliases or values beyond what any document has.',
  why: 'Such files are made to exhaust a machine.',
  mend: 'Write it flat.',
  bad: { 'procedures/deep.yaml': `${'['.repeat(60)}${']'.repeat(60)} # <-\n` },
  good: procedure('steps:\n  - inspect: leaks\n'),
};
