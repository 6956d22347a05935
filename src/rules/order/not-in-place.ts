import { called } from '../../ledger/called.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const studs = (steps: string): string =>
  procedure(
    `temporaries: { studs: { name: guide studs, count: 2, needed-for: [fit cover] } }\nsteps:\n  - remove: cover\nclose-up:\n${steps}`,
  );

export const rule: Rule = {
  name: 'order/not-in-place',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A step is done without what the profile says must be in for it (`needed-for:`): a mandrel, a guide, a lock.',
  why: 'The disc is not centred, the gasket is torn, the shaft turns; it shows when all is together again.',
  mend: 'Put it in before this step, and take it out after.',
  bad: studs('  - place: studs\n  - clear: studs\n  - fit: cover # <-\n'),
  good: studs('  - place: studs\n  - fit: cover\n  - clear: studs\n'),
  check(context, tell) {
    for (const { step, temporary } of context.problems('not-in-place')) {
      const declared = step.participant.scope.temporaries.get(temporary);
      tell({
        span: stepSpan(step),
        about: temporary,
        message: `${called(step, temporary)} must be in for ${stepWords(step)}, and is not. Put \`place: ${temporary}\` before this step, and \`clear: ${temporary}\` after it.`,
        related: declared ? [{ span: spanOf(declared, 'needed-for'), message: 'so says the profile' }] : [],
      });
    }
  },
};
