import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { takingApart } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/beneath',
  severity: 'error',
  finds: 'Work beneath a vehicle that is not raised and secured.',
  why: 'A jack alone kills.',
  mend: 'Need `vehicle-raised`, or raise the vehicle before.',
  bad: procedure(`parts: { pan: { name: sump pan, beneath: true } }
steps:
  - remove: pan # <-
close-up:
  - fit: pan
`),
  good: procedure(`parts: { pan: { name: sump pan, beneath: true } }
steps:
  - raise: vehicle
  - remove: pan
close-up:
  - fit: pan
final:
  ground:
    - lower: vehicle
`),
  check(context, tell) {
    for (const place of context.placesOf(takingApart)) {
      const { planned } = place;
      const beneath = planned.objects.find((object) => planned.participant.scope.parts.get(object)?.beneath);
      if (!beneath) continue;
      const raised =
        place.before.filter((step) => step.verb === 'raise').length > place.before.filter((step) => step.verb === 'lower').length;
      if (!raised)
        tell({
          span: stepSpan(planned),
          message: `\`${beneath}\` is reached from beneath, and the vehicle is not raised at this step. Need \`vehicle-raised\`; nobody works under a vehicle that stands on a jack.`,
        });
    }
  },
};
