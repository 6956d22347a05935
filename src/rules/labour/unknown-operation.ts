import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'labour/unknown-operation',
  severity: 'error',
  finds: 'Extra time for an operation that the job does not have.',
  why: 'The corrosion is billed to nothing.',
  mend: 'Write procedure/operation as the finding lists them.',
  bad: job(
    'access: [{ operation: example/lok, factor: 1.25, reason: rust }] # <-\n',
    'labour: { look: { time: 0.2 h } }\nsteps:\n  - inspect: leaks\n',
  ),
  good: job(
    'access: [{ operation: example/look, factor: 1.25, reason: rust }]\n',
    'labour: { look: { time: 0.2 h } }\nsteps:\n  - inspect: leaks\n',
  ),
};
