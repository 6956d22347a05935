import { called } from '../../ledger/called.js';
import { stagesNow, stagesOfStep } from '../../ledger/joints.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/on-the-ground',
  severity: 'error',
  finds: 'A joint that must be tightened with the wheels on the ground is tightened in the air.',
  why: 'A wheel bearing set in the air is set wrong.',
  mend: 'Move the step to `final: ground:` and write `wheels: on-ground`.',
  bad: procedure(
    'steps:\n  - raise: vehicle\n  - remove: wheel\nclose-up:\n  - fit: wheel\n  - tighten: wheel-nuts\n    stages: [1, 2] # <-\n  - lower: vehicle\n',
  ),
  good: procedure(
    'steps:\n  - raise: vehicle\n  - remove: wheel\nclose-up:\n  - fit: wheel\n  - tighten: wheel-nuts\n  - lower: vehicle\n  - tighten: wheel-nuts\n    wheels: on-ground\n',
  ),
  check(context, tell) {
    for (const place of context.placesOf('tighten')) {
      const { planned } = place;
      if (planned.step.wheels === 'on-ground') continue;
      for (const { joint, group } of place.joints) {
        const stages = planned.step.stages ?? (group && stagesOfStep(group, planned.step).length === 0 ? stagesNow(group) : []);
        const onGround = stages.filter((stage) => group?.stages?.[stage - 1]?.wheels === 'on-ground');
        const [last] = onGround.slice(-1);
        if (last === undefined) continue;
        const which = onGround.length === 1 ? `Stage ${last}` : `Stages ${onGround.slice(0, -1).join(', ')} and ${last}`;
        const these = `${which} of ${called(planned, joint.group)} ${onGround.length === 1 ? 'is' : 'are'} tightened with the wheels on the ground`;
        tell({
          span: spanOf(planned.step, planned.step.stages ? 'stages' : 'tighten'),
          message: `${these}, and this step is not done there. ${planned.moment === 'ground' ? 'Write' : 'Move it to `final: ground:` and write'} \`wheels: on-ground\`.`,
        });
      }
    }
  },
};
