import { runningSince } from '../../ledger/engine.js';
import type { VerbName } from '../../ledger/verbs.js';
import type { Plan, PlanStep } from '../../plan/plan.js';
import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import { once } from '../../once.js';
import { en } from '../../words/en.js';
import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { firstOfEach, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const warm = (stop: string, mark = ''): string =>
  procedure(`steps:
  - start: engine
    warning: Hands clear of moving parts; extraction on; neutral, park brake on.
  - run: engine
    says: Until it is warm.
${stop}  - remove: cover${mark}
close-up:
  - fit: cover
`);

/** What nobody does on an engine that runs. Plugs are opened, and a level is set, while it does. */
const never: readonly VerbName[] = ['remove', 'renew', 'drain', 'disconnect'];

export const rule: Rule = {
  name: 'hazard/engine-runs',
  severity: 'error',
  finds: 'Something is taken off or drained while the engine still runs.',
  why: 'Belts and fans take hands, hot fluid comes under pressure, and nobody beneath is safe.',
  mend: 'Put `stop: engine` before it.',
  bad: warm('', ' # <-'),
  good: warm('  - stop: engine\n'),
  check(context, tell) {
    const found: { readonly place: PlanPlace; readonly kind: string; readonly object: string; readonly started: PlanStep }[] = [];
    const running = new Map<Plan, readonly (PlanStep | null)[]>();
    // In most plans nothing is taken apart once it was started.
    const started = new Map<Plan, number>();
    for (const { plan, index } of context.placesOf('start')) started.set(plan, Math.min(index, started.get(plan) ?? index));
    for (const place of started.size > 0 ? context.placesOf(never) : []) {
      const { plan, planned, index } = place;
      if (index < (started.get(plan) ?? Number.POSITIVE_INFINITY) || !once(running, plan, () => runningSince(plan.steps))[index]) continue;
      const start = place.before.findLast(({ verb }) => verb === 'start');
      const object = planned.objects.find((one) => planned.verb !== 'disconnect' || isOpened(planned, one));
      if (start && object !== undefined) found.push({ place, kind: start.objects.join(' '), object, started: start });
    }
    for (const { place, object, started } of firstOfEach(found))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `${called(place.planned, object)} is ${en.done[place.planned.verb] ?? 'renewed'} here while the engine runs: ${stepWords(started)} is before this step, and nothing stops it. Put \`stop: ${started.objects[0]}\` before it.`,
      });
  },
};

/** Whether what is disconnected lets something out, or is the battery: plugs of sensors are pulled to see what changes. */
function isOpened({ participant: { scope } }: PlanStep, object: string): boolean {
  const part = scope.parts.get(object);
  return part?.role === 'battery' || asList(part?.circuit).length > 0;
}
