import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { phrases } from '../phrases.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/in-words',
  severity: 'error',
  looksAt: 'phrased',
  finds: 'Words that stand for steps: “reassemble in reverse”, “refit in reverse order”.',
  why: 'The reverse is never quite the reverse: new seals, torque, order. Nothing can be ticked.',
  mend: 'Write the steps of the close-up.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: Reassemble in reverse order of removal. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: No drip beneath.\n'),
  check(context, tell) {
    for (const { step, says } of context.phrased) {
      if (phrases.reversed.test(says))
        tell({
          span: spanOf(step, 'says'),
          message: 'These words stand for steps that nobody can tick. Write the steps of the close-up, each with its torque.',
        });
    }
  },
};
