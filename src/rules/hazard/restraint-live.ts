import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { partsWhere } from '../parts-where.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { comesOn, deadSince, did, takingApart } from '../steps.js';

const airbag = (steps: string): string =>
  procedure(`parts: { airbag: { name: airbag, hazard: restraint, opened-after: [ignition-off] } }
steps:
  - read: fault-codes
  - switch-off: ignition
  - wait: ignition-off
${steps}`);

const off = `    warning: It fires. Nobody in front of it.
    wear: [eyes]
    qualification: restraint systems
`;

export const rule: Rule = {
  name: 'hazard/restraint-live',
  severity: 'warning',
  finds: 'An airbag or another restraint is taken off or put on with the battery connected, or before the wait after it came off.',
  why: 'Its igniter has current, or a capacitor holds enough of it, and a spark or a tester fires it at whoever leans over it.',
  mend: 'Need `battery-isolated`, wait after that, and connect the battery when the restraint is on.',
  bad: airbag(`  - remove: airbag # <-\n${off}close-up:\n  - fit: airbag\n  - switch-on: ignition\n`),
  good: airbag(
    `  - disconnect: battery\n  - wait: ignition-off\n  - remove: airbag\n${off}close-up:\n  - fit: airbag\n  - connect: battery\n  - tighten: battery\n  - switch-on: ignition\n  - reset: clock\n`,
  ),
  check(context, tell) {
    const live = new Set<string>();
    for (const place of context.placesOf(takingApart))
      for (const object of restraintsOf(place)) {
        const since = deadSince(place);
        if (since < 0) live.add(object);
        if (since >= 0 && (place.before.some(({ verb }, index) => index > since && verb === 'wait') || isUnwaited(place, object))) continue;
        tell({
          span: spanOfObject(place.plan, place.planned, object),
          about: object,
          message:
            since < 0
              ? `\`${object}\` is a restraint and is taken apart here with the battery connected. Need \`battery-isolated\`, and put the \`wait:\` of the profile after it.`
              : `\`${object}\` is a restraint and is taken apart here without a wait after the battery is off: the time counts from there. Put \`wait:\` with it between the two.`,
        });
      }
    for (const place of context.placesOf(puttingOn))
      for (const object of restraintsOf(place)) {
        if (live.has(object) || deadSince(place) >= 0) continue;
        const connected = place.before.findLast(comesOn);
        tell({
          span: spanOfObject(place.plan, place.planned, object),
          about: object,
          message: `\`${object}\` is a restraint and goes on here with the battery connected. Put this step before ${connected ? stepWords(connected) : 'the battery is connected'}.`,
        });
      }
  },
};

/** A wait that the profile names and that is nowhere before is told as that: `hazard/opened-unsafe`. */
const isUnwaited = ({ planned, before, dangers }: PlanPlace, object: string): boolean =>
  dangers.some(
    (danger) =>
      danger.object === object &&
      (danger.source['opened-after'] ?? []).some(
        (one) => planned.participant.scope.vehicle?.waits?.[one] !== undefined && !did(before, 'wait', one),
      ),
  );

const puttingOn = ['fit', 'connect'] as const;

const restraints = partsWhere(({ hazard }) => hazard === 'restraint');

function restraintsOf({ planned: { objects, participant } }: PlanPlace): readonly string[] {
  const all = restraints(participant.scope);
  return all.size === 0 ? none : objects.filter((object) => all.has(object));
}

const none: readonly string[] = [];
