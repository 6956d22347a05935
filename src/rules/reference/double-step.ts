import type { Step } from '../../schema/generated/types.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/double-step',
  severity: 'error',
  finds: 'Two steps of one document with the same id, both of them in the same plan.',
  why: 'Whoever points at the step by its id, such as the hand-over tag, is shown the wrong one.',
  mend: 'Give one another id.',
  bad: procedure('steps:\n  - inspect: leaks\n    id: look\n  - clean: bench\n    id: look # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    id: look\n  - clean: bench\n    id: wiped\n'),
  check(context, tell) {
    for (const { plan } of context.plans) {
      const known = new Map<string, Step>();
      for (const { step, participant } of plan.steps) {
        if (step.id === undefined || !context.works.includes(participant.document)) continue;
        const name = `${participant.document.id} ${step.id}`;
        const first = known.get(name);
        if (!first) known.set(name, step);
        else if (first !== step)
          tell({
            span: spanOf(step, 'id'),
            message: `Another step of this document has the id \`${step.id}\` already. Give one of the two another id.`,
            related: [{ span: spanOf(first, 'id'), message: 'the first one' }],
          });
      }
    }
  },
};
