import { called } from '../../ledger/called.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'gate/not-tightened',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A part is back on, but its fasteners are not tightened when a circuit is filled or the engine is turned over.',
  why: 'A joint that is only put together leaks or lets go.',
  mend: 'Put the tightening before this step.',
  bad: procedure(
    'steps:\n  - open: tap\n  - drain: coolant\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - fit: cover\n  - close: tap\n  - fill: coolant # <-\n  - tighten: pump-bolts\n',
  ),
  good: procedure(
    'steps:\n  - open: tap\n  - drain: coolant\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n  - close: tap\n  - fill: coolant\n',
  ),
  check(context, tell) {
    for (const { gate, part, fitted } of context.problems('loose-at-gate')) {
      tell({
        span: spanOf(gate.step, gate.verb),
        message: `${stepWords(gate)} comes before ${called(fitted, part)} is tightened. Put \`tighten: ${part}\` before this step.`,
        related: [{ span: stepSpan(fitted), message: 'put on here' }],
      });
    }
  },
};
