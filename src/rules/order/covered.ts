import { called } from '../../ledger/called.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'order/covered',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A part is taken off while what covers it is still on.',
  why: "It cannot be reached; the hour that it takes to find out is nobody's.",
  mend: 'Take the cover off first, or need the preparation that does.',
  bad: procedure('steps:\n  - remove: pump # <-\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n'),
  good: procedure('steps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n'),
  check(context, tell) {
    for (const { step, object, by } of context.problems('covered')) {
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} cannot be reached: ${by.map((cover) => called(step, cover)).join(', ')} ${by.length === 1 ? 'is' : 'are'} still on. Add \`remove: ${by[0]}\` before this step, or need a preparation that does it.`,
      });
    }
  },
};
