import { called } from '../../ledger/called.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'order/shut-in',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A cover goes on while a part behind it is still off.',
  why: 'It comes off again.',
  mend: 'Put the part behind it back first.',
  bad: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: cover # <-\n  - fit: pump\n  - tighten: pump-bolts\n'),
  good: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n'),
  check(context, tell) {
    for (const { step, object, line } of context.problems('shut-in')) {
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} goes on here while ${called(step, line.object)} behind it is still off. Put that back first.`,
        related: [{ span: stepSpan(line.opened), message: 'off since here' }],
      });
    }
  },
};
