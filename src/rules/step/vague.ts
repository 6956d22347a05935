import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { phrases } from '../phrases.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/vague',
  severity: 'warning',
  looksAt: 'phrased',
  finds: 'Words that cannot be measured or ticked: “tight”, “as required”, “if necessary”, “torque to spec”.',
  why: 'Each reader fills them in differently.',
  mend: 'Write the value, the condition or what can be seen.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: Top up as required. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Level between the two marks.\n'),
  check(context, tell) {
    for (const { step, says } of context.phrased) {
      const found = phrases.vague.exec(says);
      if (found)
        tell({
          span: spanOf(step, 'says'),
          message: `“${found[0]}” cannot be ticked or measured. Write the value, the condition, or what is to be seen.`,
        });
    }
  },
};
