import { called } from '../../ledger/walk.js';
import { closerOf } from '../../ledger/verbs.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'ledger/temporary-left-in',
  severity: 'error',
  finds: 'A pin, plug, cap, cover, support or switched-off interlock that is never taken out or undone.',
  why: 'A locking pin left in breaks an engine; a rag left in ends up in the pump.',
  mend: 'Add the step that takes it out, before the gates named.',
  bad: procedure('steps:\n  - place: pin # <-\n'),
  good: procedure('steps:\n  - place: pin\n  - clear: pin\n'),
  *check(context) {
    for (const { line, gates } of context.problems('left-open')) {
      if (line.kind !== 'temporary') continue;
      const closer = closerOf(line.pair);
      yield {
        span: spanOf(line.opened.step, line.opened.verb),
        message: `${called(line.opened, line.object)} goes in here (${line.opened.verb}) and never comes out again. Add \`${closer}: ${line.object}\`${gates[0] ? ` before ${stepWords(gates[0])}` : ''}.`,
        related: [...gates.map((gate) => ({ span: stepSpan(gate), message: `it is still there at ${stepWords(gate)}` })), ...line.again.map((step) => ({ span: stepSpan(step), message: 'placed again here, while it is still in' }))],
      };
    }
  },
};
