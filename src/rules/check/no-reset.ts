import { stepSpan } from '../context.js';
import { batteryOff } from '../examples.js';
import { did, disconnectsBattery } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/no-reset',
  severity: 'warning',
  finds: 'A battery was disconnected and nothing is reset or taught in afterwards.',
  why: 'Windows that do not close by themselves come back the same day.',
  mend: 'Add `reset:` after connecting, with what the profile lists.',
  bad: batteryOff('  - reset: clock\n'),
  good: batteryOff(),
  check(context, tell) {
    for (const place of context.placesOf('disconnect')) {
      const { planned } = place;
      if (disconnectsBattery(planned) && did(place.after, 'connect') && !did(place.after, 'reset'))
        tell({
          span: stepSpan(planned),
          message:
            'What loses its memory with the battery is not reset afterwards. Add `reset:` after the battery is connected, with what the profile lists (clock, windows, steering angle).',
        });
    }
  },
};
