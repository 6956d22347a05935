import type { Scope } from '../../library/scope.js';
import { once } from '../../once.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const caliper = 'parts: { caliper: { name: brake caliper } }\nsteps:\n  - remove: caliper # <-\nclose-up:\n  - fit: caliper\n';

export const rule: Rule = {
  name: 'hazard/brake-pedal',
  severity: 'warning',
  finds: 'A brake caliper or brake shoes were off, and no step after that has the pedal pumped until it is firm.',
  why: 'The pistons stand back: the first time the pedal goes to the floor, and the vehicle does not stop.',
  mend: 'Add `inspect: brake-pedal` to `final: ground:`, before the vehicle moves.',
  bad: procedure(caliper),
  good: procedure(
    `${caliper.replace(' # <-', '')}final:\n  ground:\n    - inspect: brake-pedal\n      says: Pump the pedal until it is firm, before the vehicle moves.\n`,
  ),
  check(context, tell) {
    for (const place of context.placesOf('remove')) {
      const { objects, participant } = place.planned;
      const off = objects.find((object) => isBrake(participant.scope, object));
      if (off === undefined || place.after.some(({ objects: names, step }) => /pedal/i.test(`${names.join(' ')} ${step.says ?? ''}`)))
        continue;
      tell({
        span: stepSpan(place.planned),
        about: off,
        message: `\`${off}\` is off here, and no step after it has the brake pedal pumped until it is firm. Add \`inspect: brake-pedal\` to \`final: ground:\`, before the vehicle moves.`,
      });
    }
  },
};

/** What moves when the pedal is pressed; common practice, no source. In the languages of the tool. */
const brake = /caliper|brake[ -]shoe|bremssattel|bremsbacke/i;

const brakes = new WeakMap<object, ReadonlySet<string>>();

/** Parts by id or name, found out once; what no profile has by its name alone. */
const isBrake = ({ things, parts }: Scope, object: string): boolean =>
  parts.has(object)
    ? once(brakes, things, () => new Set([...parts].flatMap(([id, { name }]) => (brake.test(`${id} ${name ?? ''}`) ? [id] : [])))).has(
        object,
      )
    : brake.test(object);
