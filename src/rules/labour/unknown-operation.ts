import { didYouMeanOf } from '../../findings/suggest.js';
import { operationsIn } from '../../job/labour.js';
import { castOfJob, inEachWay } from '../../plan/merge.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'labour/unknown-operation',
  severity: 'error',
  looksAt: 'jobs',
  finds: 'Extra time for an operation that the job does not have.',
  why: 'The corrosion is billed to nothing.',
  mend: 'Write procedure/operation as the finding lists them.',
  bad: job(
    'access: [{ operation: example/lok, factor: 1.25, reason: rust }] # <-\n',
    'labour: { look: { time: 0.2 h } }\nsteps:\n  - inspect: leaks\n',
  ),
  good: job(
    'access: [{ operation: example/look, factor: 1.25, reason: rust }]\n',
    'labour: { look: { time: 0.2 h } }\nsteps:\n  - inspect: leaks\n',
  ),
  check({ jobs, library }, tell) {
    for (const one of jobs) {
      if (!one.access) continue;
      const casts = inEachWay(one).map((way) => castOfJob(library, way));
      if (casts.some(({ incomplete }) => incomplete)) continue;
      const known = new Set(casts.flatMap(({ members }) => members.flatMap(({ participant }) => operationsIn(participant.document))));
      for (const access of one.access)
        if (!known.has(access.operation))
          tell({
            span: spanOf(access, 'operation'),
            message: `\`${access.operation}\` is not an operation of this job.${didYouMeanOf(access.operation, known)}`,
          });
    }
  },
};
