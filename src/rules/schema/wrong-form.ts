import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'schema/wrong-form',
  severity: 'error',
  finds: 'A name, date, code or thread in the wrong form.',
  why: 'It would not be found again.',
  mend: 'Write it as the finding shows.',
  bad: {
    ...job(''),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "25.11.2026" # <-\nvehicle: sample-van\nplate: AB12\nwork: [example]\n',
  },
  good: job(''),
};
