import { loadRatio, preloadOf, thresholds } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/past-proof',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A torque that passes the proof load of the bolt even where friction is high (estimate after VDI 2230).',
  why: 'With the lubricant that is named, the bolt yields before the wrench clicks.',
  mend: 'Look the value and `threads:` up again. The maker’s figure stands.',
  bad: fastener('count: 2, thread: M10, class: "8.8", drive: 16 AF, reuse: always, threads: anti-seize, stages: [{ torque: 56 N·m }]'),
  good: fastener('count: 2, thread: M10, class: "8.8", drive: 16 AF, reuse: always, threads: dry, stages: [{ torque: 56 N·m }]'),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      const estimate = preloadOf(group);
      if (!estimate || estimate.band.leastShare <= 1 || (loadRatio(group) ?? 0) > thresholds.high) continue;
      const { band, friction } = estimate;
      tell({
        span: spanOf(group, 'stages', 'key'),
        message: `With threads ${group.threads ?? 'as nobody says'} (friction ${friction.low} to ${friction.high}) these stages load ${group.thread} of class ${group.class} to ${(band.leastShare * 100).toFixed(0)} to ${(band.mostShare * 100).toFixed(0)} % of its proof load, an estimate. Is \`threads:\` right? The maker’s figure for \`${id}\` stands.`,
      });
    }
  },
};
