import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import { did } from '../steps.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
  '    form: ready\n',
  '    form: ready\n    level: { engine: "off", says: Between the marks. }\n',
);

export const rule: Rule = {
  name: 'fluid/no-level-check',
  severity: 'warning',
  finds: 'A fluid with a level condition is filled and its level never checked.',
  why: 'What was poured is not yet what is in.',
  mend: 'Add `check:` with the fluid, after the engine has run and cooled if the profile says so.',
  bad: {
    'vehicles/sample-van.yaml': van,
    'procedures/example.yaml': procedure('steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant # <-\n'),
  },
  good: {
    'vehicles/sample-van.yaml': van,
    'procedures/example.yaml': procedure(
      'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n  - check: coolant\n',
    ),
  },
  check(context, tell) {
    for (const place of context.placesOf('fill')) {
      const { planned } = place;
      for (const object of planned.objects)
        if (planned.participant.scope.fluids.get(object)?.level && !did(place.after, 'check', object))
          tell({
            span: stepSpan(planned),
            message: `\`${object}\` is filled and its level is never checked, though the profile says how. Add \`check: ${object}\` where that condition is met.`,
          });
    }
  },
};
