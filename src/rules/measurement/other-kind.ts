import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/other-kind',
  severity: 'error',
  finds: 'A reading in a unit that measures something else than its limit.',
  why: 'A pressure cannot be compared with a length.',
  mend: 'Write the reading with its right unit.',
  bad: job(
    'measured: { height: 3 bar } # <-\n',
    'measurements: { height: { name: height, limit: max 0.5 mm, with: dial gauge, points: 2, max-spread: 0.05 mm, resolution: 0.01 mm, outside: Renew the part. } }\nsteps:\n  - measure: height\n',
  ),
  good: job(
    'measured: { height: 0.3 mm }\n',
    'measurements: { height: { name: height, limit: max 0.5 mm, with: dial gauge, points: 2, max-spread: 0.05 mm, resolution: 0.01 mm, outside: Renew the part. } }\nsteps:\n  - measure: height\n',
  ),
};
