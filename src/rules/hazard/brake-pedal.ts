import { isOfBrakes, isTowed } from '../brakes.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const caliper = 'parts: { caliper: { name: brake caliper } }\nsteps:\n  - remove: caliper # <-\nclose-up:\n  - fit: caliper\n';

export const rule: Rule = {
  name: 'hazard/brake-pedal',
  severity: 'warning',
  finds:
    'A brake caliper or brake shoes were off or the hydraulics of the brakes open, and no step after that has the pedal pumped until it is firm.',
  why: 'The pistons stand back, or there is air in the line: the first time the pedal goes to the floor, and the vehicle does not stop.',
  mend: 'Add `inspect: brake-pedal` to `final: ground:`, before the vehicle moves.',
  bad: procedure(caliper),
  good: procedure(
    `${caliper.replace(' # <-', '')}final:\n  ground:\n    - inspect: brake-pedal\n      says: Pump the pedal until it is firm, before the vehicle moves.\n`,
  ),
  check(context, tell) {
    for (const { place, object } of firstFound(context.placesOf(takingApart), isUnpumped))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `\`${object}\` is off or open here, and no step after it has the brake pedal pumped until it is firm. Add \`inspect: brake-pedal\` to \`final: ground:\`, before the vehicle moves.`,
      });
  },
};

const isUnpumped = (place: PlanPlace, object: string): boolean =>
  isOfBrakes(place.planned.participant.scope, object) && !isTowed(place.planned.participant.scope) && !isPumpedAfter(place);

const isPumpedAfter = ({ after }: PlanPlace): boolean =>
  after.some(({ objects, step: { says = '' } }) => {
    const words = `${objects.join(' ')} ${says}`;
    return /pedal|brake[ -]lever|bremshebel/i.test(words) || (/brake|bremse/i.test(words) && /\b(auf)?pump/i.test(says));
  });
