import { beltsOf } from '../belts.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { firstObjectOf } from '../parts-where.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/belt-routing',
  severity: 'warning',
  finds: 'A belt or chain goes on without its routing and how to see that it sits.',
  why: 'A belt one rib over lasts a week.',
  mend: 'Write `says:` or `figure:` with routing and seating; `mark:` the routing before it comes off.',
  bad: procedure(`parts: { drive-belt: { name: drive belt, role: belt } }
steps:
  - remove: drive-belt
close-up:
  - fit: drive-belt # <-
    new: true
`),
  good: procedure(`parts: { drive-belt: { name: drive belt, role: belt } }
steps:
  - remove: drive-belt
close-up:
  - fit: drive-belt
    new: true
    says: As sketched; each rib in its groove.
`),
  check(context, tell) {
    for (const { planned } of context.placesOf('fit')) {
      const belt = firstObjectOf(planned, beltsOf);
      if (belt && !planned.step.says && !planned.step.figure)
        tell({
          span: stepSpan(planned),
          message: `\`${belt}\` goes on here without its routing. Write \`says:\` or \`figure:\`: how it runs, and how to see that it sits in every groove.`,
        });
    }
  },
};
