import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/road-test-unsaid',
  severity: 'warning',
  finds: 'A road test that does not say what to drive and what to look for.',
  why: 'Once round the block finds nothing.',
  mend: 'Write `says:` with conditions and what to observe.',
  bad: procedure(`steps:
  - drive: vehicle # <-
`),
  good: procedure(`steps:
  - drive: vehicle
    says: Town and open road; listen at the front left wheel.
`),
  check(context, tell) {
    for (const { step, verb } of context.steps)
      if (verb === 'drive' && !step.says)
        tell({
          span: spanOf(step, 'drive'),
          message:
            'This road test does not say what to drive and what to observe. Write `says:`, for example “Town and open road; look at temperature and warning lamps, listen”.',
        });
  },
};
