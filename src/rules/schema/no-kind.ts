import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/no-kind',
  severity: 'error',
  finds: 'A document that does not say what it is.',
  why: 'Nobody can check it.',
  mend: 'Begin with `kind:`.',
  bad: { 'procedures/example.yaml': 'id: example # <-\nname: Example\n' },
  good: procedure('steps:\n  - inspect: leaks\n'),
};
