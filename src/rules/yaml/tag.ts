import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/tag',
  severity: 'error',
  finds: 'A YAML tag (`!name`).',
  why: 'It means nothing here, and could mean anything elsewhere.',
  mend: 'Delete it and write the plain value.',
  bad: procedure('steps:\n  - inspect: !thing leaks # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n'),
};
