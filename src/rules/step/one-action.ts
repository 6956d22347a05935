import { verbsIn } from '../../ledger/verbs.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/one-action',
  severity: 'error',
  finds: 'A step without a verb, or with two.',
  why: 'One step, one tick. A second action behind the same box is the one that is forgotten.',
  mend: 'Write one verb a step; put the second into a step of its own.',
  bad: procedure('steps:\n  - says: Look around. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Look around.\n'),
  check(context, tell) {
    for (const { step, verbs } of context.steps) {
      if (verbs === 1 || isDamaged(step)) continue;
      const found = verbsIn(step);
      if (found.length === 0)
        tell({
          span: spanOf(step),
          message: `This step says nothing to do: it has no verb. Begin it with one, for example \`inspect:\`, \`remove:\` or \`tighten:\`.`,
        });
      else
        tell({
          span: spanOf(step, found[1] ?? '', 'key'),
          message: `This step has ${found.length} verbs (${found.join(', ')}). Put \`${found[1]}\` into a step of its own, with its own dash.`,
        });
    }
  },
};
