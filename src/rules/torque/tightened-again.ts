import { called } from '../../ledger/called.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const pump = 'steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n';

export const rule: Rule = {
  name: 'torque/tightened-again',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A joint that is tightened in all of its stages once more, without having been loosened.',
  why: 'A bolt that is turned through its angle twice is stretched beyond use; at best the step is ticked for nothing.',
  mend: 'Delete one of the two; or name the stages of each step (`stages: [1]`), or loosen the joint before.',
  bad: procedure(`${pump}  - tighten: pump-bolts # <-\n  - fit: cover\n`),
  good: procedure(`${pump}  - loosen: pump-bolts\n  - tighten: pump-bolts\n  - fit: cover\n`),
  check(context, tell) {
    for (const { step, joint, first } of context.problems('tightened-again'))
      tell({
        span: stepSpan(step),
        // A torque that is set again clicks at once; an angle is added to the first.
        severity: step.participant.scope.fasteners.get(joint.group)?.stages?.some(({ angle }) => angle) ? 'error' : 'warning',
        about: joint.group,
        message: `${called(step, joint.group)} is tightened already, and this step only repeats it. Delete one of the two steps, name the stages of each (\`stages: [1]\`), or loosen it before.`,
        related: [{ span: stepSpan(first), message: 'tightened here' }],
      });
  },
};
