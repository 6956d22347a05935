import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/outside-table',
  severity: 'error',
  finds: 'A reading from before the job for which the table of choices has no row.',
  why: 'A guessed grade is a wrong grade.',
  mend: 'Measure again; then do what the choice says under `outside:`.',
  bad: job(
    'measured: { height: 0.5 mm } # <-\n',
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    outside: Stop and ask the foreman.\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
  good: job(
    'measured: { height: 0.6 mm }\n',
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    outside: Stop and ask the foreman.\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
};
