import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'labour/no-time',
  severity: 'warning',
  finds: 'An operation for which neither its document nor the vehicle profile has a time.',
  why: 'It is given away.',
  mend: 'Write `times:` in the vehicle profile.',
  bad: {
    ...job('', 'labour: { look: {} }\nsteps:\n  - inspect: leaks\n'),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van # <-\nplate: AB12\nwork: [example]\n',
  },
  good: job('', 'labour: { look: { time: 0.2 h } }\nsteps:\n  - inspect: leaks\n'),
};
