import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'variant/not-pinned',
  severity: 'error',
  leavesGap: 'figure',
  finds: 'A job on which something depends on a variant that nobody has told apart at the vehicle.',
  why: 'The wrong variant is the wrong torque.',
  mend: 'Look at the vehicle and write the feature with how it was told.',
  bad: {
    ...job('', 'steps:\n  - inspect: leaks\n    when: { engine: A1 }\n'),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van # <-\nplate: AB12\nwork: [example]\n',
  },
  good: job('features: { engine: { is: A1, by: read on the plate } }\n', 'steps:\n  - inspect: leaks\n    when: { engine: A1 }\n'),
};
