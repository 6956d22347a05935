import { fileOf } from '../../library/document.js';
import { workDocument } from '../../library/library.js';
import { wantedOf } from '../../plan/needs.js';
import { inEachWay } from '../../plan/merge.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'labour/unsaid',
  severity: 'warning',
  looksAt: 'jobs',
  finds: 'Work of a job that says nothing of its time.',
  why: 'It is done for nothing: no hour of it stands on the quote, nor in the plan of the day.',
  mend: 'Write `labour:` in the procedure, an operation with its time.',
  bad: {
    ...job(''),
    'procedures/example.yaml': 'kind: procedure\nid: example\nname: Example work\nfor: sample-van\nsteps:\n  - inspect: leaks\n',
    'jobs/example-job.yaml': 'kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: "AB 12"\nwork: [example] # <-\n',
  },
  good: job(''),
  check({ jobs, library }, tell) {
    for (const { work } of jobs.flatMap(inEachWay))
      for (const [index, one] of work.entries()) {
        const document = workDocument(library, wantedOf(one, library).id);
        if (!document || isDamaged(document) || document.labour) continue;
        tell({
          span: spanOf(work, index),
          message: `Nobody says how long \`${document.id}\` takes, so that no time of it is billed. Add \`labour:\` to ${fileOf(document).path}, for example \`labour: { all: { says: all of it, time: 0.5 h } }\`; or \`labour: {}\`, where its preparations take all of it.`,
        });
      }
  },
};
