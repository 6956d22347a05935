import { called } from '../../ledger/called.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { minutesAlone } from '../../plan/alone.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const glass = (wait: string, mark = ''): string =>
  procedure(`parts: { windscreen: { name: windscreen } }
steps:
  - remove: windscreen
close-up:
  - apply: windscreen${mark}
    agent: adhesive
  - fit: windscreen
${wait}final:
  road:
    - drive: vehicle
      says: Listen for wind.
      wear: [eyes]
`);

export const rule: Rule = {
  name: 'order/bond-not-cured',
  severity: 'error',
  finds: 'Something is bonded with adhesive, and the vehicle moves before any time to cure.',
  why: 'A windscreen that is not held yet does not hold the airbag either.',
  mend: 'Add `wait:` with the time of the adhesive’s maker before the vehicle moves.',
  bad: glass('', ' # <-'),
  good: glass('  - wait: 60 min\n'),
  check(context, tell) {
    for (const place of context.placesOf('apply')) {
      const { plan, planned, after } = place;
      if (planned.step.agent !== 'adhesive') continue;
      const moves = after.findIndex(({ verb }) => verb === 'drive' || verb === 'hand-over');
      const move = after[moves];
      // It cures from when its part is on.
      const on = after.slice(0, moves).findIndex(({ verb }) => verb === 'fit') + 1;
      if (!move || after.slice(on, moves).some((step) => minutesAlone(step) > 0)) continue;
      const [object = ''] = planned.objects;
      tell({
        span: spanOfObject(plan, planned, object),
        about: object,
        message: `${called(planned, object)} is bonded here, and no time passes for the adhesive to cure before ${stepWords(move)}. Add \`wait:\` with the time that its maker states.`,
        related: [{ span: stepSpan(move), message: 'it is loaded here' }],
      });
    }
  },
};
