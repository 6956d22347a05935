import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const work = 'steps:\n  - inspect: leaks\n    second-person: the joint at the pump\n';

export const rule: Rule = {
  name: 'job/same-person',
  severity: 'error',
  looksAt: 'jobs',
  finds: 'A job whose second person is the one who does the work.',
  why: 'Who looks at his own work sees what he meant.',
  mend: 'Name another `checker:`.',
  bad: job('technician: T1\nchecker: T1 # <-\n', work),
  good: job('technician: T1\nchecker: T2\n', work),
  check(context, tell) {
    for (const one of context.jobs) {
      if (one.checker !== undefined && one.checker === one.technician)
        tell({
          span: spanOf(one, 'checker'),
          message: `${one.checker} does the work and cannot be its second person. Name another \`checker:\`; the job cannot be released otherwise.`,
        });
    }
  },
};
