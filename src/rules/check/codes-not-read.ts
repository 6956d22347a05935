import { stepSpan } from '../context.js';
import { batteryOff } from '../examples.js';
import { did, disconnectsBattery } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/codes-not-read',
  severity: 'warning',
  finds: 'A battery is disconnected before the fault codes are read.',
  why: 'The only witness is gone.',
  mend: 'Put `read: fault-codes` before, or need `vehicle-received`.',
  bad: batteryOff('  - read: fault-codes\n'),
  good: batteryOff(),
  check(context, tell) {
    for (const place of context.placesOf('disconnect')) {
      const { planned } = place;
      if (disconnectsBattery(planned) && !did(place.before, 'read'))
        tell({
          span: stepSpan(planned),
          message:
            'The fault codes are lost when the battery is disconnected. Put `read: fault-codes` before this step, or need `vehicle-received`.',
        });
    }
  },
};
