import { circuitsOf } from '../../library/scope.js';
import { isDamaged } from '../../schema/origin.js';
import { brakesOf } from '../brakes.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did, onlyPrepares } from '../steps.js';

const bled = (bleeding: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
    'fluids:\n',
    `fluids:\n  brake-fluid: { spec: DOT 4, item: coolant-ready, capacity: 0.8 L${bleeding} }\n`,
  ),
  'procedures/example.yaml': procedure(
    `steps:\n  - bleed: brake-fluid${bleeding ? '' : ' # <-'}\n    until: no bubbles at the nipple; two strokes without\n`,
  ),
});

export const rule: Rule = {
  name: 'fluid/bleeding-unsaid',
  severity: 'warning',
  finds: 'A brake or clutch is bled, and nobody says how much fluid that takes.',
  why: 'It is on no parts list and no quote: the shop gives it away, and the can is empty halfway.',
  mend: 'Write `bleeding:` at the fluid in the vehicle profile; or fill it in by a step.',
  bad: bled(''),
  good: bled(', bleeding: 0.3 L, waste: antifreeze'),
  check(context, tell) {
    for (const { place, kind: id } of firstFound(context.placesOf('bleed'), unsaid))
      tell({
        span: stepSpan(place.planned),
        about: id,
        message: `Bleeding takes new \`${id}\`, and nobody orders it. Write how much at the fluid in the vehicle profile: \`bleeding: 0.3 L\`, for example.`,
      });
  },
};

function unsaid({ plan, planned }: PlanPlace, object: string): false | readonly string[] {
  const { scope } = planned.participant;
  if (onlyPrepares(plan)) return false;
  return circuitsOf(scope, object).filter((id) => {
    const fluid = scope.fluids.get(id);
    return (
      brakesOf(scope).circuits.has(id) && fluid?.item !== undefined && !fluid.bleeding && !isDamaged(fluid) && !did(plan.steps, 'fill', id)
    );
  });
}
