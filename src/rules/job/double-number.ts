import type { LibraryFile } from '../../library/document.js';
import { once } from '../../once.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const another = (lines: string): string =>
  `kind: job\nid: next-job\ndate: "2026-11-26"\nvehicle: sample-van\nplate: "CD 34"\nwork: [example]\n${lines}`;

export const rule: Rule = {
  name: 'job/double-number',
  severity: 'warning',
  finds: 'Two job orders of one year with the same number.',
  why: 'Both say “Job 2042, page 1/7”, and in the bay nobody can tell their pages apart.',
  mend: 'Correct the number in one of the two.',
  bad: { ...job('number: "7"\n'), 'jobs/next-job.yaml': another('number: "7" # <-\n') },
  good: { ...job('number: "7"\n'), 'jobs/next-job.yaml': another('number: "8"\n') },
  compare({ library }, tell, isWanted) {
    const known = new Map<string, LibraryFile>();
    for (const one of library.standing) {
      const { number, date } = one.card ?? {};
      if (number === undefined) continue;
      const first = once(known, `${date?.slice(0, 4)} ${number}`, () => one);
      if (first === one || (!isWanted(one) && !isWanted(first))) continue;
      const [document, other] = [one.document, first.document];
      if (document?.kind !== 'job' || other?.kind !== 'job') continue;
      tell({
        span: spanOf(document, document.number === undefined ? 'id' : 'number'),
        message: `The number ${number} is that of job \`${other.id}\` already, and their pages could not be told apart. Correct one of the two.`,
        related: [{ span: spanOf(other, other.number === undefined ? 'id' : 'number'), message: 'the first one', orHere: true }],
      });
    }
  },
};
