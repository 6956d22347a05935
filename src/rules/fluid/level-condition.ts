import { limitsIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
  '    form: ready\n',
  '    form: ready\n    level: { at: 35..45 °C, engine: running, says: Fluid just drips out. }\n',
);
const work = (at: string): string =>
  procedure(`steps:\n  - start: engine\n    warning: Hands clear of moving parts.\n  - check: coolant${at}\n  - stop: engine\n`);

export const rule: Rule = {
  name: 'fluid/level-condition',
  severity: 'error',
  finds: 'A level check at another temperature than the vehicle profile asks for.',
  why: 'A gearbox filled to the mark at the wrong temperature is half a litre out.',
  mend: 'Write `at:` as in the `level:` of the fluid.',
  bad: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': work('\n    at: 35..60 °C # <-') },
  good: { 'vehicles/sample-van.yaml': van, 'procedures/example.yaml': work('\n    at: 35..45 °C') },
  check(context, tell) {
    for (const { planned } of context.placesOf('check')) {
      for (const object of planned.objects) {
        const wanted = planned.participant.scope.fluids.get(object)?.level?.at;
        if (!wanted) continue;
        const { at } = planned.step;
        // Without `at:` the sheet prints the condition of the profile; only two of them can contradict each other.
        if (!at) continue;
        const [given, limit] = [limitsIn(at, '°C'), limitsIn(wanted, '°C')];
        const outside =
          (limit.low && (!given.low || given.low.lt(limit.low))) || (limit.high && (!given.high || given.high.gt(limit.high)));
        if (outside)
          tell({
            span: spanOf(planned.step, 'at'),
            message: `The level of \`${object}\` is right only at ${wanted.text}, and this step checks it at ${at.text}. Write \`at: ${wanted.text}\`.`,
            related: [
              {
                span: spanOf(planned.participant.scope.fluids.get(object)?.level ?? planned.step, 'at'),
                message: 'the condition of the vehicle profile',
              },
            ],
          });
      }
    }
  },
};
