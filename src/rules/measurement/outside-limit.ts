import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/outside-limit',
  severity: 'info',
  finds: 'A reading from before the job that lies outside its limit, or readings that differ too much.',
  why: 'The part and the customer’s yes are needed before the wheel is off.',
  mend: 'Do what the measurement says under `outside:`.',
  bad: job(
    'measured: { height: [0.31 mm, 0.42 mm] } # <-\n',
    'measurements: { height: { name: height, limit: max 0.5 mm, with: dial gauge, points: 2, max-spread: 0.05 mm, resolution: 0.01 mm, outside: Renew the part. } }\nsteps:\n  - measure: height\n',
  ),
  good: job(
    'measured: { height: [0.31 mm, 0.33 mm] }\n',
    'measurements: { height: { name: height, limit: max 0.5 mm, with: dial gauge, points: 2, max-spread: 0.05 mm, resolution: 0.01 mm, outside: Renew the part. } }\nsteps:\n  - measure: height\n',
  ),
};
