import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/on-off',
  severity: 'warning',
  finds: 'on, off, yes or no as a text without quotes.',
  why: 'It is a text to one reader of YAML and true or false to another.',
  mend: 'Say the state in a word, or put it in quotes.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: off # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: "off"\n'),
};
