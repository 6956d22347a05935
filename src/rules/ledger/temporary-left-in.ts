import { called } from '../../ledger/called.js';
import { closerOf, type Pair } from '../../ledger/verbs.js';
import { en } from '../../words/en.js';
import { closingFix } from '../closing.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'ledger/temporary-left-in',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A pin, plug, cap, cover, support or switched-off interlock that is never taken out or undone.',
  why: 'A locking pin left in breaks an engine; a rag left in ends up in the pump.',
  mend: 'Add the step that takes it out, before the gates named.',
  bad: procedure('steps:\n  - place: pin # <-\n'),
  good: procedure('steps:\n  - place: pin\n  - clear: pin\n'),
  check(context, tell) {
    for (const left of context.leftOpen('temporary')) {
      const { span, lines, gates, again } = left;
      const named = lines.map((line) => called(line.opened, line.object)).join(' and ');
      const closers = lines.map((line) => `\`${closerOf(line.pair)}: ${line.object}\``).join(' and ');
      tell({
        span,
        fix: closingFix(context, left),
        message: `${named} ${leftSo(lines[0]?.pair ?? 'place', lines.length > 1)}. Add ${closers}${gates[0] ? ` before ${stepWords(gates[0])}` : ''}.`,
        related: [
          ...gates.map((gate) => ({ span: stepSpan(gate), message: `it is still there at ${stepWords(gate)}` })),
          ...again.map((step) => ({ span: stepSpan(step), message: 'placed again here, while it is still in' })),
        ],
      });
    }
  },
};

const { done } = en;

/** What was done with it, and never undone. */
function leftSo(pair: Pair, several: boolean): string {
  if (pair === 'place') return several ? 'go in here and never come out again' : 'goes in here and never comes out again';
  const are = several ? 'are' : 'is';
  return pair === 'support'
    ? `${are} supported here, and the support is never taken away`
    : `${are} ${done[pair]} here and never ${done[closerOf(pair)]} again`;
}
