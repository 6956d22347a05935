import type { Scope } from '../../library/scope.js';
import { once } from '../../once.js';
import { isAlignment, ofAlignment } from '../alignment.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { firstOfEach, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const trackRod = (after: string): string =>
  procedure(`parts: { track-rod: { name: left track rod } }\nsteps:\n  - remove: track-rod # <-\nclose-up:\n  - fit: track-rod\n${after}`);

export const rule: Rule = {
  name: 'check/no-alignment',
  severity: 'info',
  finds: 'What guides or steers a wheel was off, and no step after that measures or sets the wheel alignment (common practice, no source).',
  why: 'The steering wheel stands askew, and the tyres are worn in a month.',
  mend: 'Add the measurement of the toe to `final: ground:`, or `send:` the vehicle to be measured.',
  bad: trackRod(''),
  good: trackRod('final:\n  ground:\n    - adjust: toe\n      says: To the figures of the maker, on the rig.\n'),
  check(context, tell) {
    const found: { readonly place: PlanPlace; readonly kind: string; readonly off: string }[] = [];
    for (const place of context.placesOf(takingOff)) {
      const guiding = guidingIn(place.planned.participant.scope);
      if (guiding.size === 0) continue;
      for (const off of place.planned.objects)
        if (guiding.has(off) && !isAlignedAfter(place)) found.push({ place, kind: 'alignment', off });
    }
    for (const { place, off } of firstOfEach(found))
      tell({
        span: spanOfObject(place.plan, place.planned, off),
        about: off,
        message: `\`${off}\` is off here, and no step after it measures or sets the wheel alignment. Where the maker asks for that, add it to \`final: ground:\`.`,
      });
  },
};

const takingOff = ['remove', 'renew'] as const;

/** What holds the wheels in their direction; in the languages of the tool. */
const guides =
  /\b(track|tie)[- ]?rod|\bsteering[- ](rack|gear)|\b(control|suspension)[- ]arm|\bwishbone|\bstrut\b|\bsubframe|spurstange|lenkgetriebe|querlenker|federbein|achsträger/i;

const guiding = new WeakMap<object, ReadonlySet<string>>();

/** Those parts of a profile, found out once. */
const guidingIn = ({ things, parts }: Scope): ReadonlySet<string> =>
  once(guiding, things, () => new Set([...parts].flatMap(([id, { name }]) => (guides.test(`${id} ${name ?? ''}`) ? [id] : []))));

const isAlignedAfter = ({ after }: PlanPlace): boolean =>
  after.some(
    ({ verb, objects, step, participant: { scope } }) =>
      /^(measure|adjust|check|test|inspect|send)$/.test(verb) &&
      (objects.some((object) => isAlignment(scope, object)) || ofAlignment.test(step.says ?? '')),
  );
