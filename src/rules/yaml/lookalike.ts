import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/lookalike',
  severity: 'error',
  finds: 'A character that looks like a sign of YAML (a space, a dash, a colon, a quote) and is another.',
  why: 'A line that is pasted from a web page or a text processor looks right, and is read as something else.',
  mend: 'Write the plain sign; `--fix` does.',
  bad: procedure('steps:\n  – inspect: leaks # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n'),
};
