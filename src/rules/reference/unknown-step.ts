import { didYouMean, Names } from '../../findings/suggest.js';
import { writtenIn } from '../../plan/written.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-step',
  severity: 'error',
  finds: 'A step that is pointed at (`at:`) and does not exist.',
  why: 'What might be found would have no place on the sheet.',
  mend: 'Give the step that `id:`, or correct the name.',
  bad: procedure(
    'steps:\n  - inspect: leaks\n    id: look\nmight-find:\n  seal: { says: the seal is worn, at: lok, labour: 0.2 h } # <-\n',
  ),
  good: procedure('steps:\n  - inspect: leaks\n    id: look\nmight-find:\n  seal: { says: the seal is worn, at: look, labour: 0.2 h }\n'),
  check(context, tell) {
    for (const work of context.works) {
      if (!work['might-find']) continue;
      const ids = new Names(writtenIn(work).all.flatMap(({ step }) => step.id ?? []));
      for (const thing of Object.values(work['might-find']))
        if (!ids.has(thing.at))
          tell({
            span: spanOf(thing, 'at'),
            message: `No step of this document has the id \`${thing.at}\`.${didYouMean(thing.at, ids)} Give the step that shows it an \`id:\`.`,
          });
    }
  },
};
