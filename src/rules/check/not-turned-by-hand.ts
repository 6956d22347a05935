import type { Plan, PlanStep } from '../../plan/plan.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const belt = (turn: string): string =>
  procedure(`parts: { timing-belt: { name: timing belt, role: belt } }
steps:
  - place: pin
  - remove: timing-belt
close-up:
  - fit: timing-belt # <-
    new: true
    says: Clockwise from the crankshaft; every tooth in its gap.
  - clear: pin
${turn}final:
  running:
    - start: engine
      warning: Rotating parts seize. Hands away; extraction on; neutral, park brake on.
`);

export const rule: Rule = {
  name: 'check/not-turned-by-hand',
  severity: 'warning',
  finds: 'A belt or chain goes on with the shafts pinned, and the starter is the first to turn them (common practice, no source).',
  why: 'By hand a valve that meets a piston is felt; the starter bends it.',
  mend: 'Add `turn: engine`, two turns in its running direction, after the pins are out.',
  bad: belt(''),
  good: belt('  - turn: engine\n    says: Two turns in its running direction.\n'),
  check(context, tell) {
    const pinned = new Set(
      context.placesOf('place').flatMap(({ plan, planned }) => (planned.objects.some(isPinIn(planned)) ? [plan] : [])),
    );
    for (const plan of pinned) {
      const found = turnedByStarter(plan);
      if (!found) continue;
      const { step, object } = found;
      tell({
        span: spanOfObject(plan, step, object),
        about: object,
        message: `\`${object}\` goes on here with the shafts pinned, and the starter is the first to turn them. Add \`turn: engine\` after the pins are out, with \`says:\` how far and which way.`,
      });
    }
  },
};

/** Whether a name is something that must be out before the engine is turned. */
const isPinIn =
  ({ participant: { scope } }: PlanStep) =>
  (object: string): boolean =>
    scope.temporaries.get(object)?.['due-before']?.includes('turn engine') ?? false;

/** The belt that went on between pins and was not turned by hand before the starter turns it. */
function turnedByStarter({ steps }: Plan): { readonly step: PlanStep; readonly object: string } | null {
  const pins = new Set<string>();
  let onPins: { readonly step: PlanStep; readonly object: string } | null = null;
  for (const step of steps) {
    const { verb, objects } = step;
    if (verb === 'place') for (const object of objects.filter(isPinIn(step))) pins.add(object);
    if (verb === 'clear') for (const object of objects) pins.delete(object);
    if (verb === 'fit' && pins.size > 0) {
      const object = objects.find((one) => step.participant.scope.parts.get(one)?.role === 'belt');
      if (object !== undefined) onPins = { step, object };
    }
    if (verb === 'turn' && objects.includes('engine')) onPins = null;
    if (onPins && (verb === 'crank' || verb === 'start') && objects.includes('engine')) return onPins;
  }
  return null;
}
