import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/bleed-without-end',
  severity: 'error',
  finds: 'Bleeding or warming up without the end by which it is known to be done.',
  why: 'Some stop at the first bubble-free minute, some never.',
  mend: 'Write `until:`: temperature, fan cycles, no bubbles for so many minutes, and when to give up.',
  bad: procedure(`steps:
  - bleed: coolant # <-
`),
  good: procedure(`steps:
  - bleed: coolant
    until: no bubbles for 3 min; stop after 20 min at the latest
`),
  check(context, tell) {
    for (const { step, verb } of context.steps)
      if (verb === 'bleed' && !step.until)
        tell({
          span: spanOf(step, 'bleed'),
          message: 'Nothing says when this is done. Write `until:`, for example “no bubbles for 3 min; stop after 20 min at the latest”.',
        });
  },
};
