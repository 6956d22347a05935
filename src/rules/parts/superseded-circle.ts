import { supersession } from '../../resolve/parts/supersession.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/superseded-circle',
  severity: 'warning',
  finds: 'Part numbers that supersede each other in a circle.',
  why: 'Nobody can tell which one is current; the cheaper one is bought.',
  mend: 'Ask the supplier which number is current, and delete the other.',
  bad: {
    'parts/more.yaml':
      'kind: parts\nid: more\nitems: { lamp: { name: lamp } }\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-2"] } # <-\n  - { number: "L-2", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-1"] }\n',
  },
  good: {
    'parts/more.yaml':
      'kind: parts\nid: more\nitems: { lamp: { name: lamp } }\noffers:\n  - { number: "L-1", contains: { lamp: 1 }, price: 4.00, supersedes: ["L-2"] }\n  - { number: "L-2", contains: { lamp: 1 }, price: 4.00 }\n',
  },
  compare({ library }, tell) {
    const declared = library.standing.flatMap((file) =>
      (file.card?.supersedes ?? []).map(([number, supersedes]) => ({ number, supersedes, file })),
    );
    for (const circle of supersession(declared).circles) {
      const document = declared.find(({ number }) => number === circle[0])?.file.document;
      const first =
        document?.kind === 'parts' ? document.offers.find(({ number, supersedes }) => supersedes && number === circle[0]) : undefined;
      if (first)
        tell({
          span: spanOf(first, 'supersedes'),
          message: `${circle.join(', ')} supersede each other. Ask which number is current and delete the other; until then the cheaper one is bought.`,
        });
    }
  },
};
