import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/not-confirmed',
  severity: 'info',
  looksAt: 'jobs',
  finds: 'A complaint that no test has confirmed.',
  why: 'Work on a fault that nobody has seen does not end.',
  mend: 'Write `confirmed:` with the test and its result.',
  bad: job('complaint: Coolant is lost. # <-\n'),
  good: job('complaint: Coolant is lost.\nconfirmed: Pressure drops 0.3 bar in 10 min.\n'),
  check(context, tell) {
    for (const one of context.jobs)
      if (
        one.complaint &&
        !one.confirmed &&
        /\b(lost|loses|leak\w*|smoke\w*|noise|hum\w*|rattle\w*|slip\w*|shake\w*|blows)\b/i.test(one.complaint)
      )
        tell({
          span: spanOf(one, 'complaint'),
          message:
            'No test confirms this complaint. Write `confirmed:` with the test and its result; the same test after the work proves it.',
        });
  },
};
