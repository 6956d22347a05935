import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/missing-key',
  severity: 'error',
  finds: 'A key that must be there.',
  why: 'Without it the document cannot be used.',
  mend: 'Add it; the finding says what it is for.',
  bad: 'kind: procedure # <-\nid: example\nfor: sample-van\nsteps:\n  - inspect: leaks\n',
  good: procedure('steps:\n  - inspect: leaks\n'),
};
