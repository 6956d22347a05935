import { called } from '../../ledger/called.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'ledger/count-differs',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'More or fewer pieces come out than went in.',
  why: 'The piece that is missing in the count is in the engine.',
  mend: 'Make the two counts agree.',
  bad: procedure('temporaries: { rags: { count: 4 } }\nsteps:\n  - place: rags\n  - clear: rags\n    count: 3 # <-\n'),
  good: procedure('temporaries: { rags: { count: 4 } }\nsteps:\n  - place: rags\n  - clear: rags\n    count: 4\n'),
  check(context, tell) {
    for (const { step, line, expected, found } of context.problems('count')) {
      tell({
        span: spanOf(step.step, 'count'),
        message: `${found} of ${called(step, line.object)} come back here, but ${expected} were opened. Make the counts agree.`,
        related: [{ span: stepSpan(line.opened), message: `${expected} opened here` }],
      });
    }
  },
};
