import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/points-nowhere',
  severity: 'warning',
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
    for (const { step } of context.steps) {
      const found =
        step.says && !step.figure
          ? /\b(as shown|see (the )?(figure|picture|drawing|photo)|as in the (figure|picture))\b/i.exec(step.says)
          : null;
      if (found)
        tell({
          span: spanOf(step, 'says'),
          message: `“${found[0]}” points at a picture that is not there. Name it in \`figure:\`, or say it in words.`,
        });
    }
  },
};
