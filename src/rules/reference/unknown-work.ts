import { renameFix } from '../../findings/fixes.js';
import { didYouMeanOf } from '../../findings/suggest.js';
import { workDocument } from '../../library/library.js';
import { wantedOf } from '../../plan/needs.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-work',
  severity: 'error',
  leavesGap: 'plan',
  looksAt: 'jobs',
  finds: 'A job that asks for a procedure that does not exist.',
  why: 'The work would be missing on the sheet.',
  mend: 'Correct the name, or write the procedure.',
  bad: {
    ...job(''),
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: AB12\nwork: [exmaple] # <-\n',
  },
  good: job(''),
  check(context, tell) {
    for (const job of context.jobs)
      for (const { work } of [job, ...Object.values(job.alternatives ?? {})])
        for (const [index, one] of work.entries()) {
          const { id } = wantedOf(one, context.library);
          if (workDocument(context.library, id) || context.isBroken(id)) continue;
          const known = context.allShared('procedures');
          const span = spanOf(work, index);
          tell({
            span,
            fix: renameFix(span, id, known),
            message: `There is no procedure \`${id}\`.${didYouMeanOf(id, known)}`,
          });
        }
  },
};
