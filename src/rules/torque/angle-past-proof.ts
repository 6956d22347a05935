import { preloadOf, turnAdds } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/angle-past-proof',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'An angle stage that takes a bolt past its proof load, and the bolt is used again (estimate by stiffness).',
  why: 'A bolt stretched for good does not hold the second time.',
  mend: 'Write `reuse: never`, or the maker’s length limit; or correct `clamp-length`.',
  bad: fastener(
    'count: 2, thread: M8x1.25x50, class: "8.8", drive: 13 AF, reuse: always, threads: dry, clamp-length: 40 mm, stages: [{ torque: 15 N·m }, { angle: 90 deg }]',
  ),
  good: fastener(
    'count: 2, thread: M8x1.25x50, class: "8.8", drive: 13 AF, reuse: never, item: pump, threads: dry, clamp-length: 40 mm, stages: [{ torque: 15 N·m }, { angle: 90 deg }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      if (group.reuse !== 'always') continue;
      const estimate = preloadOf(group);
      const turned = turnAdds(group);
      if (!estimate || !turned) continue;
      const proofLoad = estimate.band.least / estimate.band.leastShare;
      const share = (estimate.band.least + turned.force) / proofLoad;
      if (share <= 1) continue;
      const stage = group.stages?.find((one) => one.angle);
      tell({
        span: stage ? spanOf(stage, 'angle') : spanOf(group),
        message: `${turned.angle}° after the torque load ${group.thread} of class ${group.class} to about ${(share * 100).toFixed(0)} % of its proof load (an estimate by stiffness), and \`${id}\` is used again. Write \`reuse: never\`, or the maker’s length limit.`,
      });
    }
  },
};
