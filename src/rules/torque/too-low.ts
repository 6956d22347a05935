import { loadRatio, thresholds } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';
import { isPlug } from '../screwed-in.js';

export const rule: Rule = {
  name: 'torque/too-low',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A torque far below what the bolt is made for, with no angle to follow.',
  why: 'It is how lbf·in written for lbf·ft, or a lost zero, leaves a joint loose.',
  mend: 'Look the value and its unit up again.',
  bad: fastener('count: 2, thread: M12, class: "10.9", drive: 18 AF, reuse: always, threads: dry, stages: [{ torque: 9 N·m }]'),
  good: fastener('count: 2, thread: M12, class: "10.9", drive: 18 AF, reuse: always, threads: dry, stages: [{ torque: 90 N·m }]'),
  check(context, tell) {
    for (const place of context.fasteners) {
      const { id, group } = place;
      const ratio = loadRatio(group);
      if (ratio === null || ratio >= thresholds.low || group.stages?.some((stage) => stage.angle || stage['back-off'])) continue;
      if (ratio >= thresholds.lowOfPlug && isPlug(place)) continue;
      const stage = group.stages?.find((one) => one.torque);
      if (stage?.torque)
        tell({
          span: spanOf(stage, 'torque'),
          message: `${stage.torque.text} is only ${(ratio * 100).toFixed(0)} % of what loads ${group.thread} of class ${group.class} to its proof load (an estimate), and no angle follows. Is the unit of \`${id}\` right?`,
        });
    }
  },
};
