import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const vanWith = (more: string): string =>
  (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('    form: ready\n', `    form: ready\n${more}`);
const changed =
  'measurements: { strength: { name: strength, unit: "%", with: refractometer } }\nsteps:\n  - measure: strength\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n';
const mixed = '    product: 50 %\n    target: 50 %\n    range: 45..55 %\n    strength: strength\n';

export const rule: Rule = {
  name: 'fluid/off-target',
  severity: 'warning',
  finds: 'A ready mixture that brings the system inside its range, but not to its target.',
  why: 'What is left in the system dilutes or strengthens what goes in.',
  mend: 'Say so to the customer, or pour concentrate and water.',
  bad: { ...job('measured: { strength: 40 % } # <-\n', changed), 'vehicles/sample-van.yaml': vanWith(mixed) },
  good: { ...job('measured: { strength: 50 % }\n', changed), 'vehicles/sample-van.yaml': vanWith(mixed) },
};
