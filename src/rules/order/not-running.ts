import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'order/not-running',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'The engine is to run on, but no step before starts it, or one has stopped it.',
  why: 'The warm-up that nobody started is ticked all the same.',
  mend: 'Add the start, or need the preparation that starts it.',
  bad: procedure('steps:\n  - inspect: leaks\nfinal:\n  running:\n    - run: engine # <-\n'),
  good: procedure(
    'steps:\n  - inspect: leaks\nfinal:\n  running:\n    - start: engine\n      warning: Hands clear of moving parts.\n    - run: engine\n',
  ),
  check(context, tell) {
    for (const { step, stopped } of context.problems('not-running'))
      tell({
        span: stepSpan(step),
        message: stopped
          ? 'The engine is to run here, and was stopped before. Put this before the stop, or start the engine again.'
          : 'The engine is to run here, but no step before says `start: engine`. Add it, or need `engine-cold`, which starts the engine at the end.',
        ...(stopped ? { related: [{ span: stepSpan(stopped), message: 'stopped here' }] } : {}),
      });
  },
};
