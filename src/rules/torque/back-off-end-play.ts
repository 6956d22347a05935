import { playLeft } from '../../resolve/torque/plausibility.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/back-off-end-play',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A back-off that leaves more or less end play than the limit allows.',
  why: 'A bearing with a quarter turn too much runs hot or wobbles.',
  mend: 'Correct the angle, the pitch in `thread:`, or the limit.',
  bad: fastener(
    'count: 1, thread: M20x1.5, class: "8", drive: 30 AF, reuse: always, threads: oiled, end-play: 0.03..0.13 mm, stages: [{ torque: 60 N·m }, { back-off: 90 deg }]',
  ),
  good: fastener(
    'count: 1, thread: M20x1.5, class: "8", drive: 30 AF, reuse: always, threads: oiled, end-play: 0.03..0.13 mm, stages: [{ torque: 60 N·m }, { back-off: 20 deg }]',
  ),
  check(context, tell) {
    for (const { group } of context.fasteners) {
      const play = playLeft(group);
      const stage = group.stages?.findLast((one) => one['back-off']);
      if (!play || play.fits || !stage) continue;
      tell({
        span: spanOf(stage, 'back-off'),
        related: [{ span: spanOf(group, 'end-play'), message: `the end play must be ${group['end-play']?.text}` }],
        message: `${play.angle}° back on ${group.thread} leaves ${play.text}, but the end play must be ${group['end-play']?.text}: the back-off contradicts the end-play limit. Correct one of them.`,
      });
    }
  },
};
