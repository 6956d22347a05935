import { hasTorque } from '../../resolve/torque/contact.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/angle-without-reuse',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'An angle after a torque in a group that does not say whether the fasteners may be used again.',
  why: 'A bolt turned by angle is often stretched for good; the second time it breaks or does not hold.',
  mend: 'Write `reuse: never`, or what the maker allows.',
  bad: fastener('count: 2, thread: M8, class: "10.9", drive: 13 AF, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]'),
  good: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: while length <= 31 mm, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners)
      if (hasTorque(group.stages) && group.stages?.some((stage) => stage.angle) && !group.reuse)
        tell({
          span: at(),
          message: `\`${id}\` is turned by angle and does not say whether it may be used again. Write \`reuse: never\`, or the maker's limit, for example \`while length <= 151.5 mm\`.`,
        });
  },
};
