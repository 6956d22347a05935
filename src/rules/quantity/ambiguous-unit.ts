import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/ambiguous-unit',
  severity: 'error',
  finds: 'A unit with two readings: gal, qt, lb, ft.',
  why: 'The US and the imperial gallon differ by a fifth; lb is a force, a mass, and short for two torques.',
  mend: 'Write which one.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 18 lb }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 18 lbf·ft }]'),
};
