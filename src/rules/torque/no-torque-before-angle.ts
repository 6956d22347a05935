import { hasTorque, stageFromContact } from '../../resolve/torque/contact.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/no-torque-before-angle',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'Bolts or nuts with a property class that are turned by angle, and by no torque before it.',
  why: 'An angle counts from a torque that brings the parts together; from where the first bolt touches it loads each otherwise. A filter, a plug or a flare nut is turned from contact, and has no class.',
  mend: 'Write the stage with the torque before the angle, or leave the class out where the maker counts from contact.',
  bad: fastener('count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ angle: 90 deg }]'),
  good: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      const stage = stageFromContact(group.stages);
      if (stage && group.class !== undefined && !hasTorque(group.stages))
        tell({
          span: spanOf(stage, 'angle'),
          message: `\`${id}\` of class ${group.class} is turned by ${stage.angle?.text} from where it touches; no torque comes before. Is a stage \`{ torque: … }\` missing?`,
        });
    }
  },
};
