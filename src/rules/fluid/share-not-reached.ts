import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const van = (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace('    form: ready\n', '    form: ready\n    new-share: min 85 %\n');

export const rule: Rule = {
  name: 'fluid/share-not-reached',
  severity: 'warning',
  finds: 'Fewer partial changes than the share of new fluid asks for.',
  why: 'The old fluid stays in the gearbox.',
  mend: 'Write `repeat:` with the fluid in the procedure.',
  bad: {
    ...job('', 'steps:\n  - open: tap\n  - drain: coolant # <-\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
    'vehicles/sample-van.yaml': van,
  },
  good: {
    ...job('', 'repeat: coolant\nsteps:\n  - open: tap\n  - drain: coolant\n  - close: tap\n  - fill: coolant\n'),
    'vehicles/sample-van.yaml': van,
  },
};
