import { called } from '../../ledger/called.js';
import { circuitsOf } from '../../library/scope.js';
import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { isOpenAt } from '../steps.js';

const circuit = (first: string, second: string): string =>
  procedure(`steps:
  - open: [tap, cap]
  - drain: coolant
close-up:
  - close: tap
${first}${second}  - close: cap
`);
const bleed = '  - bleed: coolant\n    until: no bubbles in the tank\n';
const fill = '  - fill: coolant\n';

export const rule: Rule = {
  name: 'fluid/bled-empty',
  severity: 'error',
  finds: 'A circuit is bled before what was drained from it is filled in again.',
  why: 'There is only air to come out; it is bled for nothing, and the air that comes with the fluid stays.',
  mend: 'Put `fill:` before `bleed:`.',
  bad: circuit(bleed.replace('coolant\n', 'coolant # <-\n'), fill),
  good: circuit(fill, bleed),
  check(context, tell) {
    for (const place of context.placesOf('bleed')) {
      const { plan, planned } = place;
      for (const object of planned.objects) {
        const empty = circuitsOf(planned.participant.scope, object).find((fluid) => isOpenAt(place, fluid));
        const later = place.after.find(({ verb, objects }) => verb === 'fill' && empty !== undefined && objects.includes(empty));
        if (empty === undefined || !later) continue;
        tell({
          span: spanOfObject(plan, planned, object),
          about: empty,
          message: `${called(planned, empty)} is drained and not filled in again when this is bled. Put this step after ${stepWords(later)}.`,
        });
      }
    }
  },
};
