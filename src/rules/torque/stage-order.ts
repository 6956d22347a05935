import { numberIn } from '../../quantity/quantity.js';
import { proofTorque, thresholds } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

/** Of what it was tightened to (common practice, no source). */
const leastAgain = 0.5;

export const rule: Rule = {
  name: 'torque/stage-order',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'Stages in an order that cannot be: a plain torque after an angle, or a lower torque after a higher one without backing off.',
  why: 'The second value does nothing, or undoes the first.',
  mend: 'Put torque before angle; put `back-off:` before a lower torque.',
  bad: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ angle: 90 deg }, { torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 20 N·m }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    for (const { group } of context.fasteners) {
      const limit = proofTorque(group.thread, group.class ?? '12.9') ?? Number.POSITIVE_INFINITY;
      let highest = 0;
      let turned = false;
      for (const stage of group.stages ?? []) {
        if (stage.after) {
          // Again later, as much as it was: much less does nothing, and looks as if it were tight.
          if (stage.torque && !turned && numberIn(stage.torque, 'N·m') < leastAgain * highest)
            tell({
              span: spanOf(stage, 'torque'),
              message: `${stage.torque.text} later is much less than it was tightened to, and does nothing. Is the unit right?`,
            });
          continue;
        }
        if (stage['back-off']) {
          highest = 0;
          turned = false;
        }
        if (stage.angle) turned = true;
        if (!stage.torque) continue;
        const value = numberIn(stage.torque, 'N·m');
        // A figure that the bolt cannot hold is told as that, and says nothing of the stages behind it.
        if (value > thresholds.cannotHold * limit) continue;
        if (turned)
          tell({
            span: spanOf(stage, 'torque'),
            message: `A plain torque (${stage.torque.text}) follows an angle stage: the wrench clicks before anything moves. Put the torque before the angle, or a \`back-off:\` between.`,
          });
        else if (value < highest)
          tell({
            span: spanOf(stage, 'torque'),
            message: `${stage.torque.text} comes after a higher torque and does nothing. Put the stages in rising order, or a \`back-off:\` before this one.`,
          });
        highest = Math.max(highest, value);
      }
    }
  },
};
