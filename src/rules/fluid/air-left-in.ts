import { inWords } from '../../library/names-in-words.js';
import type { PlanStep } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { isHeatedByEngine } from '../danger-names.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import { did, didBefore } from '../steps.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('    form: ready\n', '    form: ready\n    glycol: ethylene\n');
const change = (fill: string, after: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': van,
  'procedures/example.yaml': procedure(`steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n${fill}${after}`),
});

export const rule: Rule = {
  name: 'fluid/air-left-in',
  severity: 'warning',
  finds: 'Coolant that was let out and is filled again, and nothing drives the air out after that.',
  why: 'A pump that turns in air cools nothing; the engine, the battery or the inverter overheats on the first drive.',
  mend: 'Add `bleed:` with the fluid and `until:`, have the engine run until there are no bubbles, or fill under vacuum.',
  bad: change('  - fill: coolant # <-\n', ''),
  good: change('  - fill: coolant\n', 'final:\n  running:\n    - bleed: coolant\n      until: no bubbles for 3 min\n'),
  check(context, tell) {
    for (const place of context.placesOf('fill')) {
      const { planned } = place;
      const { fluids } = planned.participant.scope;
      for (const object of planned.objects) {
        const fluid = fluids.get(object);
        const isCoolant = fluid && (fluid.glycol !== undefined || isHeatedByEngine(object, fluid));
        if (!isCoolant || !didBefore(place, 'drain', object) || isAirOut(place, object)) continue;
        tell({
          span: stepSpan(planned),
          about: object,
          message: `\`${object}\` was drained and is filled here, and nothing after that drives the air out. Add \`bleed: ${object}\` with \`until:\`, or fill it under vacuum, with that tool under \`with:\`.`,
        });
      }
    }
  },
};

/** What is bled may be called as it likes, if it is not another fluid; an engine that runs pumps it round; what is filled under vacuum has none. */
function isAirOut({ planned, after }: PlanPlace, object: string): boolean {
  const { fluids } = planned.participant.scope;
  const isBled = ({ verb, objects }: PlanStep) => verb === 'bleed' && objects.some((one) => one === object || !fluids.has(one));
  return isUnderVacuum(planned) || after.some(isBled) || did(after, 'run');
}

/** In the languages of the tool. */
const vacuum = /vacuum|vakuum|unterdruck/;

const isUnderVacuum = ({ step }: PlanStep): boolean => vacuum.test(inWords((step.with ?? []).join(' '), step.says));
