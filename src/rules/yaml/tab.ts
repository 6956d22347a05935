import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/tab',
  severity: 'error',
  finds: 'A tab in the indentation.',
  why: 'Each editor shows it at another width; YAML forbids it.',
  mend: 'Use spaces.',
  bad: procedure('steps:\n\t- inspect: leaks # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n'),
};
