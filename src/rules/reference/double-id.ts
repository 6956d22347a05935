import { kindWords } from '../../schema/lookup.js';
import { spanOf } from '../../schema/origin.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/double-id',
  severity: 'error',
  finds: 'Two documents of one kind with the same id.',
  why: 'Nobody knows which of the two is printed.',
  mend: 'Give one another id, or delete it.',
  bad: {
    'procedures/a.yaml': procedure(lookBehindTheCover),
    'procedures/b.yaml': procedure(lookBehindTheCover).replace('id: example', 'id: example # <-'),
  },
  good: procedure(lookBehindTheCover),
  compare({ library }, tell) {
    for (const {
      second: { document },
      first: { document: first },
    } of library.doubles) {
      if (!document || !first) continue;
      const what =
        document.kind === 'shop' ? 'There is a shop profile already' : `There is a ${kindWords[document.kind]} \`${document.id}\` already`;
      tell({
        span: spanOf(document, 'id'),
        message: `${what}. Give one of the two another id, or delete it.`,
        related: [{ span: spanOf(first, 'id'), message: 'the first one' }],
      });
    }
  },
};
