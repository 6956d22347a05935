import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/no-tester',
  severity: 'warning',
  finds: 'A circuit is put under pressure with no tester named.',
  why: 'A pump from somewhere bursts the radiator.',
  mend: 'Write `with:` with the tester from the tool list.',
  bad: procedure(`steps:
  - pressurise: coolant # <-
    says: To 1.2 bar, ten minutes.
`),
  good: {
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('  gauge:', '  tester: { type: instrument }\n  gauge:'),
    'procedures/example.yaml': procedure(`steps:
  - pressurise: coolant
    with: [tester]
    says: To 1.2 bar, ten minutes.
`),
  },
  check(context, tell) {
    for (const { step, verb } of context.steps)
      if (verb === 'pressurise' && !step.with)
        tell({
          span: spanOf(step, 'pressurise'),
          message: 'Nothing says with which tester this is put under pressure. Write `with:` with its name from the tool list of the shop.',
        });
  },
};
