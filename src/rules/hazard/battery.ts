import { stepSpan } from '../context.js';
import { batteryOff } from '../examples.js';
import { disconnectsBattery } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/battery',
  severity: 'error',
  finds: 'A battery is disconnected without ignition off and the waiting time of the vehicle profile.',
  why: 'Control units and restraints keep a charge; what is cut off while writing forgets.',
  mend: 'Put `switch-off: ignition` and the `wait:` of the profile before it, or need `battery-isolated`.',
  bad: batteryOff('  - wait: ignition-off\n'),
  good: batteryOff(),
  check(context, tell) {
    for (const place of context.placesOf('disconnect')) {
      const { planned } = place;
      if (!disconnectsBattery(planned)) continue;
      const off = place.before.findIndex((step) => step.verb === 'switch-off' && step.objects.includes('ignition'));
      const waited = place.before.findIndex((step, index) => index > off && step.verb === 'wait');
      const missing = [off < 0 ? '`switch-off: ignition`' : null, waited < 0 ? '`wait:` with a waiting time of the profile' : null].filter(
        (one) => one !== null,
      );
      if (missing.length > 0)
        tell({
          span: stepSpan(planned),
          message: `Before the battery is disconnected comes ${missing.join(' and ')}. Put it before this step, or need \`battery-isolated\`.`,
        });
    }
  },
};
