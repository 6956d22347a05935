import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/reversed',
  severity: 'error',
  finds: 'A range whose first value is the larger.',
  why: 'One of the two is a slip.',
  mend: 'Write the smaller value first.',
  bad: procedure(
    'measurements: { height: { name: height, limit: 0.8..0.5 mm, with: dial gauge, outside: Stop. } } # <-\nsteps:\n  - measure: height\n',
  ),
  good: procedure(
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nsteps:\n  - measure: height\n',
  ),
};
