import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/no-observable',
  severity: 'warning',
  finds: 'An inspection or test that does not say what is to be seen.',
  why: '“Inspect” is ticked whatever is there.',
  mend: 'Write `says:` with what shows that it is good.',
  bad: procedure(`steps:
  - inspect: brake-hoses # <-
`),
  good: procedure(`steps:
  - inspect: brake-hoses
    says: No crack, no wet spot, free of the wheel at full lock.
`),
  check(context, tell) {
    for (const { step, verb } of context.steps) {
      if (verb !== 'inspect' && verb !== 'test') continue;
      if (!step.says && !step.until && step.inspect !== 'leaks')
        tell({
          span: spanOf(step, verb),
          message:
            'Nothing says what shows that this is good. Write `says:` with what can be seen, felt or read, for example “no crack, no wet spot”.',
        });
    }
  },
};
