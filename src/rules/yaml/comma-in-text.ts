import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/comma-in-text',
  severity: 'error',
  finds: 'A text inside braces or brackets that a comma cuts off.',
  why: 'The rest of the sentence is lost, and it may be the half that matters.',
  mend: 'Put the text in quotes; `check --fix` does.',
  bad: procedure('labour:\n  work: { says: belt off, pump out, time: 0.5 h } # <-\nsteps:\n  - clean: bench\n'),
  good: procedure('labour:\n  work: { says: "belt off, pump out", time: 0.5 h }\nsteps:\n  - clean: bench\n'),
};
