import { isAlignment } from '../alignment.js';
import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { heightAt, isOpenAt } from '../steps.js';
import type { PlanStep } from '../../plan/plan.js';

const raised = (first: string, second: string): string =>
  procedure(`steps:
  - raise: vehicle
  - adjust: track-rod
    says: The same number of turns as before.
final:
  ground:
${first}${second}`);
const toe = (mark = '') => `    - adjust: toe${mark}\n      says: To the figures of the maker, on the rig.\n`;
const lower = '    - lower: vehicle\n';

export const rule: Rule = {
  name: 'check/aligned-in-the-air',
  severity: 'warning',
  finds: 'The wheel alignment is measured or set while the vehicle is up, or a wheel is off.',
  why: 'Without its weight on the wheels the suspension hangs, and every figure of the alignment is another (common practice, no source).',
  mend: 'Write `wheels: on-ground` at the step, in `final: ground:`.',
  bad: raised(toe(' # <-'), lower),
  good: raised(lower, toe()),
  check(context, tell) {
    for (const place of context.placesOf(aligning)) {
      const { plan, planned } = place;
      const { scope } = planned.participant;
      const object = planned.objects.find((one) => isAlignment(scope, one));
      if (object === undefined || planned.step.wheels === 'on-ground') continue;
      const up = heightAt(place).up ?? wheelOff(place);
      if (up)
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `The wheel alignment is right only with the vehicle on its wheels, and here it is not since ${stepWords(up)}. Write \`wheels: on-ground\` at this step, in \`final: ground:\`.`,
        });
    }
  },
};

const aligning = ['measure', 'adjust', 'check', 'test'] as const;

/** The step that took off a wheel that is not on again. */
const wheelOff = (place: PlanPlace): PlanStep | undefined =>
  place.before.find(
    ({ verb, objects, participant: { scope } }) =>
      verb === 'remove' && objects.some((object) => scope.parts.get(object)?.role === 'wheel' && isOpenAt(place, object)),
  );
