import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/expects-another',
  severity: 'error',
  finds: 'A job that expects another part than the one that its own reading chooses.',
  why: 'The wrong gasket lies on the bench.',
  mend: 'Correct the reading or what is expected.',
  bad: job(
    'measured: { height: 0.6 mm }\nexpect: { grade: pump-gasket } # <-\n',
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    outside: Stop and ask the foreman.\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
  good: job(
    'measured: { height: 0.6 mm }\nexpect: { grade: pump }\n',
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    outside: Stop and ask the foreman.\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
};
