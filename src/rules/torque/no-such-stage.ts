import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/no-such-stage',
  severity: 'error',
  finds: 'A stage that repeats one that is not there.',
  why: 'A pass without a figure.',
  mend: 'Write the number of a stage with a torque or an angle.',
  bad: job(
    '',
    fastener(
      'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }, { repeat: 3 }]',
    ).replace(/^.*?for: sample-van\n/s, ''),
  ),
  good: job(
    '',
    fastener(
      'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }, { repeat: 1 }]',
    ).replace(/^.*?for: sample-van\n/s, ''),
  ),
};
