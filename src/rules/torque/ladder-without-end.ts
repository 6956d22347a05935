import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/ladder-without-end',
  severity: 'error',
  finds: 'A ladder of torques whose end is no declared measurement.',
  why: 'Without the measured value nobody knows where to stop.',
  mend: 'Declare the measurement with its limit, and name it in `until:`.',
  bad: job(
    '',
    fastener(
      'count: 2, thread: M10, class: "10.9", drive: 16 AF, reuse: always, threads: dry, stages: [{ ladder: { from: 40 N·m, step: 5 N·m, to: 50 N·m, until: drag } }]',
    ).replace(/^.*?for: sample-van\n/s, ''),
  ),
  good: job(
    '',
    fastener(
      'count: 2, thread: M10, class: "10.9", drive: 16 AF, reuse: always, threads: dry, stages: [{ ladder: { from: 40 N·m, step: 5 N·m, to: 50 N·m, until: drag } }]',
    )
      .replace(
        /^.*?for: sample-van\n/s,
        'measurements: { drag: { name: drag, limit: 1.7..2.3 N·m, with: spring scale, resolution: 0.1 N·m, outside: New sleeve. } }\n',
      )
      .concat('  - measure: drag\n'),
  ),
};
