import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { phrases } from '../phrases.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/points-nowhere',
  severity: 'warning',
  looksAt: 'phrased',
  finds: 'Words that point at something that is not there: “as shown”, “see figure”, “the arrow”.',
  why: 'The reader has no picture.',
  mend: 'Name the figure in `figure:`, or say it in words.',
  bad: procedure(`steps:
  - adjust: cover
    says: Turn it as shown. # <-
`),
  good: procedure(`steps:
  - adjust: cover
    says: Turn it as shown.
    figure: 21-04
`),
  check(context, tell) {
    for (const { step, says } of context.phrased) {
      const found = step.figure ? null : phrases.pointing.exec(says);
      if (found)
        tell({
          span: spanOf(step, 'says'),
          message: `“${found[0]}” points at a picture that is not there. Name it in \`figure:\`, or say it in words.`,
        });
    }
  },
};
