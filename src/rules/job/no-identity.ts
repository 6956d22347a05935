import { isDamaged, spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'job/no-identity',
  severity: 'warning',
  looksAt: 'jobs',
  finds: 'A job that does not say which vehicle stands in the bay: no plate, no fleet number, no identification or serial number.',
  why: 'The right work on the wrong vehicle.',
  mend: 'Write `plate:`, `unit:`, `vin:` or `serial:`.',
  bad: {
    ...job(''),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van # <-\nwork: [example]\n',
  },
  good: job(''),
  check(context, tell) {
    for (const one of context.jobs)
      if (!one.plate && !one.unit && !one.vin && !one.serial && !isDamaged(one))
        tell({
          span: spanOf(one, 'vehicle'),
          message:
            'Nothing says which vehicle this is. Write `plate:`, `unit:`, `vin:` or `serial:`, so that page one can be compared with it.',
        });
  },
};
