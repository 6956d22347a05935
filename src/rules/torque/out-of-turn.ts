import { called } from '../../ledger/called.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const wheel = (first: string, second: string) =>
  procedure(
    `steps:\n  - raise: vehicle\n  - remove: wheel\nfinal:\n  ground:\n    - fit: wheel\n    - lower: vehicle\n    - tighten: wheel-nuts\n${first}    - tighten: wheel-nuts\n${second}`,
  );

export const rule: Rule = {
  name: 'torque/out-of-turn',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A stage of a tightening that is done after a later one.',
  why: 'A lower torque after a higher one clicks at once and does nothing; after an angle nobody knows any more what the bolt has.',
  mend: 'Put the steps in the order of their stages.',
  bad: wheel('      stages: [2]\n      wheels: on-ground\n', '      stages: [1] # <-\n').replace(
    '    - tighten: wheel-nuts\n      stages: [1] # <-',
    '    - tighten: wheel-nuts # <-\n      stages: [1]',
  ),
  good: wheel('      stages: [1]\n', '      stages: [2]\n      wheels: on-ground\n'),
  check(context, tell) {
    for (const { step, joint, stage, later } of context.problems('out-of-turn'))
      tell({
        span: stepSpan(step),
        about: joint.group,
        message: `Stage ${stage} of ${called(step, joint.group)} is done here, after a later stage. Put this step before that one.`,
        related: [{ span: stepSpan(later), message: 'a later stage is done here' }],
      });
  },
};
