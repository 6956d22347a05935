import { stepSpan } from '../context.js';
import { openTheRail } from '../examples.js';
import { takingApart } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/no-caution',
  severity: 'error',
  finds: 'A step that opens something dangerous without a caution before it.',
  why: 'The words must be read before the hand is on it, not after.',
  mend: 'Write `danger:`, `warning:` or `caution:` with what happens and how to avoid it.',
  bad: openTheRail('    warning: Fuel under pressure cuts through skin. Wait before opening.\n'),
  good: openTheRail(),
  check(context, tell) {
    for (const place of context.placesOf(takingApart)) {
      const { planned } = place;
      const { danger, warning, caution } = planned.step;
      const found = danger || warning || caution ? [] : place.dangers;
      if (found[0])
        tell({
          span: stepSpan(planned),
          message: `\`${found[0].object}\` can hurt when it is opened (${found[0].source.hazard}), and this step has no caution. Write \`warning:\` with what happens and how to avoid it; it is printed before the step.`,
        });
    }
  },
};
