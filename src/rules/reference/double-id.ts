import { kindWords } from '../../schema/lookup.js';
import { spanOf } from '../../schema/origin.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/double-id',
  severity: 'error',
  finds: 'Two documents of one kind with the same id, or a procedure and a preparation: both are asked for by their id alone.',
  why: 'Nobody knows which of the two is printed.',
  mend: 'Give one another id, or delete it.',
  bad: {
    'procedures/a.yaml': procedure(lookBehindTheCover),
    'procedures/b.yaml': procedure(lookBehindTheCover).replace('id: example', 'id: example # <-'),
  },
  good: procedure(lookBehindTheCover),
  compare({ library }, tell, isWanted) {
    for (const { second, first } of library.doubles) {
      if (!isWanted(second) && !isWanted(first)) continue;
      const [document, other] = [second.document, first.document];
      if (!document || !other) continue;
      const what =
        other.kind === 'shop' ? 'There is a shop profile already' : `There is a ${kindWords[other.kind]} \`${other.id}\` already`;
      tell({
        span: spanOf(document, 'id'),
        message: `${what}. Give one of the two another id, or delete it.`,
        related: [{ span: spanOf(other, 'id'), message: 'the first one', orHere: true }],
      });
    }
  },
};
