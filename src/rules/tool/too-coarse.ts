import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/too-coarse',
  severity: 'warning',
  finds: 'A torque wrench that may be off by more than the specification allows.',
  why: 'A ±4 % wrench cannot keep ±2 %.',
  mend: 'Use a tool with a better certificate.',
  bad: job(
    '',
    fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 ±0.4 N·m }]').replace(
      /^.*?for: sample-van\n/s,
      '',
    ),
  ),
  good: job(
    '',
    fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 ±1 N·m }]').replace(
      /^.*?for: sample-van\n/s,
      '',
    ),
  ),
};
