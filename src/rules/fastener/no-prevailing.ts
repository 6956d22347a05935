import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-prevailing',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A locking nut or bolt without the torque with which it runs.',
  why: 'The wrench clicks on the lock and the joint is loose.',
  mend: 'Write `prevailing: { torque: 2 N·m, counts: added }`, or `counts: included`.',
  bad: fastener('count: 2, thread: M8, class: "8", drive: 13 AF, reuse: always, threads: dry, locking: true, stages: [{ torque: 20 N·m }]'),
  good: fastener(
    'count: 2, thread: M8, class: "8", drive: 13 AF, reuse: always, threads: dry, locking: true, prevailing: { torque: 2 N·m, counts: added }, stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners)
      if (group.locking && !group.prevailing)
        tell({
          span: spanOf(group, 'locking', 'key'),
          message: `\`${id}\` locks, and nobody says with which torque it runs before it clamps. Write \`prevailing: { torque: 2 N·m, counts: added }\` (on top of the stages) or \`counts: included\`.`,
        });
  },
};
