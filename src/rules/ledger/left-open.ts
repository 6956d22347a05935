import { called } from '../../ledger/called.js';
import { closerOf } from '../../ledger/verbs.js';
import { asList, spoken } from '../../library/scope.js';
import { closingFix } from '../closing.js';
import { stepSpan, stepWords } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import { en } from '../../words/en.js';
import type { Rule } from '../rule.js';
import { isRenewed } from '../steps.js';

const { done } = en;

export const rule: Rule = {
  name: 'ledger/left-open',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A part, connection, tap or fluid that is opened and never put back.',
  why: 'What is left off is on the floor, or comes back on a breakdown truck.',
  mend: 'Add the step that closes it to the close-up, before the gates named.',
  bad: procedure('steps:\n  - remove: cover # <-\n'),
  good: procedure(lookBehindTheCover),
  check(context, tell) {
    for (const left of context.leftOpen('state')) {
      const { span, opened, lines, gates, again } = left;
      const { scope } = opened.participant;
      const fluids = lines.flatMap((line) => asList(scope.parts.get(line.object)?.circuit)).filter((circuit) => scope.fluids.has(circuit));
      const floor =
        fluids.length > 0 && gates.some((gate) => gate.verb === 'fill' || gate.verb === 'pressurise')
          ? ` The ${spoken(scope, fluids[0] ?? '')} will be on the floor.`
          : '';
      const named = lines.map((line) => called(line.opened, line.object)).join(' and ');
      const closer = closerOf(lines[0]?.pair ?? 'open');
      const closers = [...new Set(lines.map((line) => `\`${closer}: ${line.object.split('@')[0]}\``))].join(' and ');
      const renewed = opened.verb === 'remove' ? lines.find(({ object }) => isRenewed(opened, object))?.object : undefined;
      const mend =
        renewed === undefined
          ? `Add ${closers}${gates[0] ? ` before ${stepWords(gates[0])}` : ' to the close-up'}.`
          : `\`renew: ${renewed}\` takes it off and puts the new one on in one step. Where it stays off meanwhile, write \`fit: ${renewed}\` with \`new: true\` in place of that; else delete it here.`;
      tell({
        span,
        ...(renewed === undefined && { fix: closingFix(context, left) }),
        message: `${named} ${lines.length === 1 ? 'is' : 'are'} ${done[opened.verb]} here and never ${done[closer]} again.${floor} ${mend}`,
        related: [
          ...gates.map((gate) => ({ span: stepSpan(gate), message: `${stepWords(gate)} must not be done while it is open` })),
          ...again.map((step) => ({ span: stepSpan(step), message: 'opened again here' })),
        ],
      });
    }
  },
};
