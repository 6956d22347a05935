import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'labour/circle',
  severity: 'error',
  finds: 'Operations that wait for each other in a circle.',
  why: 'No order of work satisfies them.',
  mend: 'Let the first one wait for none of the others.',
  bad: {
    ...job('', 'labour: { a: { time: 0.1 h, after: [b] }, b: { time: 0.1 h, after: [a] } }\nsteps:\n  - inspect: leaks\n'),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: AB12\nwork: [example] # <-\n',
  },
  good: job('', 'labour: { a: { time: 0.1 h }, b: { time: 0.1 h, after: [a] } }\nsteps:\n  - inspect: leaks\n'),
};
