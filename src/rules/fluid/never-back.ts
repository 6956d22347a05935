import { poursBack } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import { brakesOf } from '../brakes.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '')
  .replace('parts:\n', 'parts:\n  nipple: { name: bleed nipple, circuit: brake-fluid, may-stay: [fill brake-fluid] }\n')
  .replace(
    'fluids:\n',
    'fluids:\n  brake-fluid: { spec: DOT 4, item: coolant-ready, capacity: 0.8 L, bleeding: 0.3 L, drains: [{ through: [nipple], gives: 0.2 L }], waste: antifreeze }\n',
  );

const filled = (fresh: string): Readonly<Record<string, string>> => ({
  'vehicles/sample-van.yaml': van,
  'procedures/example.yaml': procedure(`steps:
  - open: nipple
  - drain: brake-fluid
close-up:
  - fill: brake-fluid${fresh}
  - close: nipple
  - bleed: brake-fluid
    until: no bubbles at the nipple; two strokes without
final:
  ground:
    - inspect: brake-pedal
      says: Pump the pedal until it is firm, before the vehicle moves.
`),
});

export const rule: Rule = {
  name: 'fluid/never-back',
  severity: 'error',
  finds: 'Brake or clutch fluid that came out is to be poured back (`new: false`).',
  why: 'It has taken up water and air: it boils in the caliper, and the pedal goes to the floor.',
  mend: 'Delete `new: false`, so that new fluid is ordered and the old is waste.',
  bad: filled('\n    new: false # <-'),
  good: filled(''),
  check(context, tell) {
    for (const { planned } of context.placesOf('fill')) {
      if (!poursBack(planned)) continue;
      const fluid = planned.objects.find((object) => brakesOf(planned.participant.scope).circuits.has(object));
      if (fluid !== undefined)
        tell({
          span: spanOf(planned.step, 'new'),
          about: fluid,
          message: `\`${fluid}\` that came out never goes back in: it has taken up water and air. Delete \`new: false\`; new fluid is then ordered.`,
        });
    }
  },
};
