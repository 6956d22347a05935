import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/running-engine',
  severity: 'warning',
  finds: 'An engine is started without a caution.',
  why: 'Belts and fans catch sleeves; a vehicle in gear moves; exhaust gas kills indoors.',
  mend: 'Write `warning:`: clear of moving parts, exhaust extraction, neutral and park brake.',
  bad: procedure(`steps:
  - start: engine # <-
  - stop: engine
`),
  good: procedure(`steps:
  - start: engine
    warning: Rotating parts seize. Hands away; extraction on; neutral, park brake on.
  - stop: engine
`),
  check(context, tell) {
    for (const { planned } of context.placesOf('start')) {
      const { danger, warning, caution } = planned.step;
      if (!danger && !warning && !caution)
        tell({
          span: stepSpan(planned),
          message:
            'The engine is started here without a caution. Write `warning:`: hands and sleeves clear of moving parts, exhaust extraction on, neutral, park brake on.',
        });
    }
  },
};
