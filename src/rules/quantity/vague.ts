import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/vague',
  severity: 'error',
  finds: 'Words instead of a value: snug, hand tight, about.',
  why: 'Each hand has another snug.',
  mend: 'Write the value.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: snug }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
};
