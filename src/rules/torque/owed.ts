import { called } from '../../ledger/called.js';
import type { Problem } from '../../ledger/problem.js';
import { fastenerOf, stagesNow } from '../../ledger/joints.js';
import { once } from '../../once.js';
import { spanOf } from '../../schema/origin.js';
import { listWith } from '../../words/list.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/owed',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A part is put back and its fasteners are never tightened, or not through all stages.',
  why: 'Fitted is not tightened. This is how wheels come off.',
  mend: 'Add the tightening step, with all its stages.',
  bad: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump # <-\n  - fit: cover\n'),
  good: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n'),
  check(context, tell) {
    const never = new Map<string, Owed[]>();
    for (const owed of context.problems('owed')) {
      const { joint, fitted, stages } = owed;
      const span = spanOf(fitted.step, fitted.verb);
      const group = fastenerOf(fitted.participant.scope, joint, {});
      if (!group || stages.length >= stagesNow(group).length) {
        const others = once(never, `${span.file.path} ${span.start} ${joint.part}`, () => []);
        if (!others.some((one) => one.joint.group === joint.group)) others.push(owed);
      } else {
        const named = called(fitted, joint.group);
        const loosened = fitted.verb === 'tighten';
        const said = loosened
          ? `${named} is tightened again here, but not`
          : `${called(fitted, joint.part)} goes on here, but ${named} are not tightened`;
        tell({
          span,
          about: joint.group,
          message: `${said} through stage ${stages.join(', ')}. Add \`tighten: ${joint.group}\`${needsGround(owed)}.`,
        });
      }
    }
    for (const all of never.values()) {
      const [first] = all;
      if (!first) continue;
      const { joint, fitted } = first;
      const groups = all.map((one) => called(one.fitted, one.joint.group));
      tell({
        span: spanOf(fitted.step, fitted.verb),
        about: joint.part,
        message: `${called(fitted, joint.part)} goes on here, but ${sentenceList(groups)} are never tightened. Add \`tighten: ${all.length > 1 ? joint.part : joint.group}\`${all.map(needsGround).find((one) => one !== '') ?? ''}.`,
      });
    }
  },
};

type Owed = Extract<Problem, { kind: 'owed' }>;

const sentenceList = listWith('and');

const needsGround = ({ joint, fitted, stages }: Owed): string =>
  stages.some((stage) => fastenerOf(fitted.participant.scope, joint, {})?.stages?.[stage - 1]?.wheels)
    ? ' with `wheels: on-ground`, after lowering'
    : '';
