import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/wrong-dimension',
  severity: 'error',
  finds: 'A quantity of the wrong kind: an angle where a torque belongs.',
  why: 'It is the value of another line.',
  mend: 'Write the right one.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 90 deg }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
};
