import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { hasTorque } from '../../resolve/torque/contact.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/total-angle',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'Angle stages of more than 270° together after a torque, or one of less than 10°.',
  why: 'More than three quarters of a turn after the torque is rare; usually a stage stands there twice.',
  mend: 'Look the stages up again.',
  bad: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 20 N·m }, { angle: 180 deg }, { angle: 180 deg }]',
  ),
  good: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      const small = group.stages?.find((stage) => stage.angle && numberIn(stage.angle, 'deg') < 10);
      if (small)
        tell({
          span: spanOf(small, 'angle'),
          message: `\`${id}\` is turned by ${small.angle?.text} in a stage: no gauge sets so little. Is a digit missing?`,
        });
      const total = (group.stages ?? []).reduce((sum, stage) => sum + (stage.angle ? numberIn(stage.angle, 'deg') : 0), 0);
      if (total > 270 && hasTorque(group.stages))
        tell({
          span: spanOf(group, 'stages', 'key'),
          message: `\`${id}\` is turned by ${total}° altogether. More than 270° is rare; does a stage stand here twice?`,
        });
    }
  },
};
