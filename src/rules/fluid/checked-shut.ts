import { called } from '../../ledger/called.js';
import { oneOf } from '../../findings/suggest.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { fillPlugsOf } from '../fill-points.js';
import type { Rule } from '../rule.js';
import { did, isOpenAt } from '../steps.js';

const gearbox = (first: string, second: string): string =>
  procedure(`parts: { filler: { name: filler plug, circuit: coolant, role: fill-point, fasteners: pump-bolts, seal: used-again } }
steps:
  - open: [filler, tap]
  - drain: coolant
close-up:
  - close: tap
  - fill: coolant
${first}${second}  - tighten: filler
`);
const check = '  - check: coolant\n    says: It just runs out.\n';
const close = '  - close: filler\n';

export const rule: Rule = {
  name: 'fluid/checked-shut',
  severity: 'warning',
  finds: 'A level is checked while the plug through which it is seen is shut.',
  why: 'Nothing runs out of a plug that is shut: the level is not checked, only ticked.',
  mend: 'Open the plug before the check, and close and tighten it after.',
  bad: gearbox(close, check.replace('\n', ' # <-\n')),
  good: gearbox(check, close),
  check(context, tell) {
    for (const place of context.placesOf('check')) {
      const { plan, planned } = place;
      for (const fluid of planned.objects) {
        const used = fillPlugsOf(planned.participant.scope, fluid).filter(
          (id) => did(plan.steps, 'open', id) || did(plan.steps, 'remove', id),
        );
        if (used.length === 0 || used.some((id) => isOpenAt(place, id))) continue;
        tell({
          span: spanOfObject(plan, planned, fluid),
          about: fluid,
          message: `The level of ${called(planned, fluid)} is checked here while ${oneOf(used)} is shut. Put \`open: ${used[0]}\` before this step, and \`close:\` and \`tighten:\` after it.`,
        });
      }
    }
  },
};
