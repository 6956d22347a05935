import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/out-of-range',
  severity: 'error',
  finds: 'A value that is larger than anything in a workshop, or below zero where nothing can be: a time, a torque, a price.',
  why: 'A slip of the number or of the unit; what is computed from it would be nonsense.',
  mend: 'Check the number and the unit against the source.',
  bad: procedure(
    'measurements: { drained: { name: drained oil, limit: max 7800000 L, with: measuring jug, outside: Stop. } } # <-\nsteps:\n  - measure: drained\n',
  ),
  good: procedure(
    'measurements: { drained: { name: drained oil, limit: max 7.8 L, with: measuring jug, outside: Stop. } }\nsteps:\n  - measure: drained\n',
  ),
};
