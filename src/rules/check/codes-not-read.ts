import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { did, stepsOfPlans } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/codes-not-read',
  severity: 'warning',
  finds: 'A battery is disconnected before the fault codes are read.',
  why: 'The only witness is gone.',
  mend: 'Put `read: fault-codes` before, or need `vehicle-received`.',
  bad: procedure(`steps:
  - switch-off: ignition
  - wait: ignition-off
  - disconnect: battery # <-
close-up:
  - connect: battery
  - tighten: battery
  - switch-on: ignition
  - reset: clock
`),
  good: procedure(`steps:
  - read: fault-codes
  - switch-off: ignition
  - wait: ignition-off
  - disconnect: battery
close-up:
  - connect: battery
  - tighten: battery
  - switch-on: ignition
  - reset: clock
`),
  *check(context) {
    for (const { planned, before } of stepsOfPlans(context)) {
      const battery =
        planned.verb === 'disconnect' && planned.objects.some((object) => planned.participant.scope.parts.get(object)?.role === 'battery');
      if (battery && !did(before, 'read'))
        yield {
          span: stepSpan(planned),
          message:
            'The fault codes are lost when the battery is disconnected. Put `read: fault-codes` before this step, or need `vehicle-received`.',
        };
    }
  },
};
