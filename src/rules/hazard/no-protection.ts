import { stepSpan } from '../context.js';
import { openTheRail } from '../examples.js';
import { takingApart } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/no-protection',
  severity: 'warning',
  finds: 'A step that opens something dangerous without protective equipment.',
  why: 'Gloves in the drawer protect nobody.',
  mend: 'Write `wear:`.',
  bad: openTheRail('    wear: [gloves, eyes]\n'),
  good: openTheRail(),
  check(context, tell) {
    for (const place of context.placesOf(takingApart)) {
      const { planned } = place;
      const found = planned.step.wear ? [] : place.dangers;
      if (found[0])
        tell({
          span: stepSpan(planned),
          message: `\`${found[0].object}\` can hurt when it is opened (${found[0].source.hazard}), and this step names no protective equipment. Write \`wear: [gloves, eyes]\`, or what it takes.`,
        });
    }
  },
};
