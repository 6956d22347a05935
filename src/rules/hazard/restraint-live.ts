import type { PlanStep } from '../../plan/plan.js';
import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { connectsBattery, disconnectsBattery, takingApart } from '../steps.js';

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
        if (since >= 0 && place.before.some(({ verb }, index) => index > since && verb === 'wait')) continue;
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

const puttingOn = ['fit', 'connect'] as const;

const restraintsOf = ({ planned: { objects, participant } }: PlanPlace): readonly string[] =>
  objects.filter((object) => participant.scope.parts.get(object)?.hazard === 'restraint');

/** The battery, or what of it was isolated by a step; high voltage is another matter, and an airbag is not fed by it. */
const isSystem = ({ objects }: PlanStep): boolean => !objects.includes('high-voltage');
const goesOff = (step: PlanStep): boolean => disconnectsBattery(step) || (step.verb === 'isolate' && isSystem(step));
const comesOn = (step: PlanStep): boolean => connectsBattery(step) || (step.verb === 'energise' && isSystem(step));

/** Since which step, by its place in the plan, the battery is off or the system isolated; -1 where it is live. */
function deadSince({ before }: PlanPlace): number {
  const off = before.findLastIndex(goesOff);
  return off > before.findLastIndex(comesOn) ? off : -1;
}
