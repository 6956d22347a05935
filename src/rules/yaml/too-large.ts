import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/too-large',
  severity: 'error',
  finds: 'A file over the size that any document of a library has.',
  why: 'It is not a document, and reading it could stop the machine.',
  mend: 'Look whether it is the right file.',
  bad: { 'procedures/large.yaml': `kind: procedure # <-\n${'# filler\n'.repeat(250_000)}` },
  good: procedure('steps:\n  - inspect: leaks\n'),
};
