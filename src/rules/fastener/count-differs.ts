import type { VerbName } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const turning: readonly VerbName[] = ['tighten', 'loosen', 're-torque'];

export const rule: Rule = {
  name: 'fastener/count-differs',
  severity: 'error',
  finds: 'A step handles another number of fasteners than the group has.',
  why: 'The tenth bolt is on the bench.',
  mend: 'Make the numbers agree, or leave `count:` out of the step.',
  bad: procedure(
    'steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n    count: 3 # <-\n  - fit: cover\n',
  ),
  good: procedure(
    'steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n    count: 4\n  - fit: cover\n',
  ),
  check(context, tell) {
    for (const place of context.placesOf(turning)) {
      const { planned } = place;
      const { step } = planned;
      if (step.count === undefined) continue;
      const total = place.joints.reduce((sum, { group }) => sum + (group?.count ?? 0), 0);
      if (total > 0 && total !== step.count)
        tell({
          span: spanOf(step, 'count'),
          message: `This step has ${step.count} of ${called(planned, planned.objects[0] ?? '')}, but the group has ${total}. Make them agree, or leave \`count:\` out here.`,
        });
    }
  },
};
