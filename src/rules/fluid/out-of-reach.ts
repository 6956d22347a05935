import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const vanWith = (more: string): string =>
  (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('    form: ready\n', `    form: ready\n${more}`);
const changed =
  'measurements: { strength: { name: strength, unit: "%", with: refractometer } }\nsteps:\n  - measure: strength\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n';
const mixed = '    product: 50 %\n    target: 50 %\n    range: 45..55 %\n    strength: strength\n';

export const rule: Rule = {
  name: 'fluid/out-of-reach',
  severity: 'error',
  finds: 'A strength that what is drained cannot reach: too much of the old fluid stays in.',
  why: 'The sheet would promise a protection that the system does not have.',
  mend: 'Drain through more openings, change it more than once, or pour another mixture.',
  bad: { ...job('measured: { strength: 10 % } # <-\n', changed), 'vehicles/sample-van.yaml': vanWith(mixed) },
  good: { ...job('measured: { strength: 50 % }\n', changed), 'vehicles/sample-van.yaml': vanWith(mixed) },
};
