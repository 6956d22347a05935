import { isPlaced, spanOf } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { unsaidDangersOf } from '../danger-names.js';
import { procedure } from '../examples.js';
import { firstOfEach, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { heldAt, slackAfter, takingApart } from '../steps.js';

const rail = (hazard: string, mark = '') =>
  procedure(`parts: { fuel-rail: { name: fuel rail${hazard}, fasteners: pump-bolts } }
steps:
  - wait: ignition-off
  - remove: fuel-rail${mark}
    warning: Fuel under pressure cuts through skin. Wait before opening.
    wear: [gloves, eyes]
close-up:
  - fit: fuel-rail
  - tighten: pump-bolts
`);

/** What makes it safe, where that is not said at the hazard. */
const besides: Readonly<Record<string, string>> = {
  spring: ', `held-by:` with what holds it, and `compress:` before that comes off',
  flammable: ', and `switch-off: ignition` or the battery off before this step',
};

export const rule: Rule = {
  name: 'hazard/unsaid',
  severity: 'warning',
  finds: 'Something is taken apart that by its name can hurt (an airbag, a fuel rail, high voltage), and the profile says no hazard of it.',
  why: 'Waiting time, caution, protection and licence are asked for by the hazard: without it, nothing is.',
  mend: 'Write `hazard:` at the part, with `opened-after:`; or give it a name that says what else it is.',
  bad: rail('', ' # <-'),
  good: rail(', hazard: fuel-pressure, opened-after: [ignition-off]'),
  check(context, tell) {
    const found: { readonly place: PlanPlace; readonly kind: string; readonly object: string; readonly at: string }[] = [];
    for (const place of context.placesOf(takingApart)) {
      const { objects, participant } = place.planned;
      const unsaid = unsaidDangersOf(participant.scope);
      for (const object of objects) {
        const danger = unsaid.get(object);
        if (danger && !(danger.hazard === 'spring' && (heldAt(place).size > 0 || slackAfter(place.before).has(object))))
          found.push({ place, kind: danger.hazard, object, at: danger.at });
      }
    }
    for (const { place, kind, object, at } of firstOfEach(found)) {
      const part = place.planned.participant.scope.parts.get(object);
      const said = `\`hazard: ${kind}\` at ${at === object ? 'it' : `\`${at}\``}`;
      const then = said + (besides[kind] ?? ', with `opened-after:`');
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `${at === object ? 'By its name' : `With \`${at}\` in it`} \`${object}\` can hurt when it is opened, and the profile says no hazard of it: nothing then asks for what makes it safe. Write ${then}${at === object ? '; or give it a name that says what else it is' : ''}.`,
        related: isPlaced(part) ? [{ span: spanOf(part, 'name'), message: 'the part in the profile' }] : [],
      });
    }
  },
};
