import { called } from '../../ledger/walk.js';
import { fastenerOf, stagesNow } from '../../ledger/joints.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/owed',
  severity: 'error',
  finds: 'A part is put back and its fasteners are never tightened, or not through all stages.',
  why: 'Fitted is not tightened. This is how wheels come off.',
  mend: 'Add the tightening step, with all its stages.',
  bad: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump # <-\n  - fit: cover\n'),
  good: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n'),
  check(context, tell) {
    for (const { joint, fitted, stages } of context.problems('owed')) {
      const group = fastenerOf(fitted.participant.scope, joint, {});
      const whole = !group || stages.length >= stagesNow(group).length;
      tell({
        span: spanOf(fitted.step, fitted.verb),
        message: `${called(fitted, joint.part)} goes on here, but ${called(fitted, joint.group)} ${whole ? 'are never tightened' : `are not tightened through stage ${stages.join(', ')}`}. Add \`tighten: ${joint.group}\`${group && stages.some((stage) => group.stages?.[stage - 1]?.wheels) ? ' with `wheels: on-ground`, after lowering' : ''}.`,
      });
    }
  },
};
