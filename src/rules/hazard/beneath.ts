import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { takingApart } from '../steps.js';
import { partsWhere } from '../parts-where.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/beneath',
  severity: 'error',
  finds: 'Work beneath a vehicle that is not raised and secured, or a wheel that comes off it.',
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
      const { scope } = planned.participant;
      const beneath = planned.objects.find((object) => reachedFromBeneath(scope).has(object));
      const wheel = planned.verb === 'remove' ? planned.objects.find((object) => wheels(scope).has(object)) : undefined;
      const object = beneath ?? wheel;
      if (object === undefined || isRaised(place)) continue;
      tell({
        span: stepSpan(planned),
        message: `\`${object}\` ${beneath === undefined ? 'comes off' : 'is reached from beneath'}, and the vehicle is not raised at this step. Need \`vehicle-raised\`; nobody works under a vehicle that stands on a jack.`,
      });
    }
  },
};

const reachedFromBeneath = partsWhere(({ beneath }) => beneath === true);
const wheels = partsWhere(({ role }) => role === 'wheel');

function isRaised({ plan: { steps }, index }: PlanPlace): boolean {
  let raised = 0;
  for (let n = 0; n < index; n++) {
    const verb = steps[n]?.verb;
    if (verb === 'raise') raised++;
    else if (verb === 'lower') raised--;
  }
  return raised > 0;
}
