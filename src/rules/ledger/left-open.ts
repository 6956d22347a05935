import type { Fix } from '../../findings/finding.js';
import { addStepFix } from '../../findings/fixes.js';
import type { Line } from '../../ledger/ledger.js';
import type { PlanStep } from '../../plan/plan.js';
import { called } from '../../ledger/walk.js';
import { closerOf } from '../../ledger/verbs.js';
import { asList, isParameter, spoken } from '../../library/scope.js';
import { closingPlace } from '../closing.js';
import { type RuleContext, stepSpan, stepWords } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'ledger/left-open',
  severity: 'error',
  finds: 'A part, connection, tap or fluid that is opened and never put back.',
  why: 'What is left off is on the floor, or comes back on a breakdown truck.',
  mend: 'Add the step that closes it to the close-up, before the gates named.',
  bad: procedure('steps:\n  - remove: cover # <-\n'),
  good: procedure(lookBehindTheCover),
  *check(context) {
    for (const { span, opened, lines, gates } of context.leftOpen('state')) {
      const { scope } = opened.participant;
      const fluids = lines.flatMap((line) => asList(scope.parts.get(line.object)?.circuit)).filter((circuit) => scope.fluids.has(circuit));
      const floor =
        fluids.length > 0 && gates.some((gate) => gate.verb === 'fill' || gate.verb === 'pressurise')
          ? ` ${spoken(scope, fluids[0] ?? '')} will be on the floor.`
          : '';
      const named = lines.map((line) => called(line.opened, line.object)).join(' and ');
      const closers = lines.map((line) => `\`${closerOf(line.pair)}: ${line.object.split('@')[0]}\``).join(' and ');
      yield {
        span,
        fix: closing(context, opened, lines, gates),
        message: `${named} ${lines.length === 1 ? 'is' : 'are'} opened here (${opened.verb}) and never closed again.${floor} Add ${closers}${gates[0] ? ` before ${stepWords(gates[0])}` : ' to the close-up'}.`,
        related: [
          ...gates.map((gate) => ({ span: stepSpan(gate), message: `${stepWords(gate)} must not be done while it is open` })),
          ...lines.flatMap((line) => line.again.map((step) => ({ span: stepSpan(step), message: 'opened again here' }))),
        ],
      };
    }
  },
};

/** The step that closes a line, where it belongs; certain where one document opens, each name is written out, and one place is right. */
function closing(context: RuleContext, opened: PlanStep, lines: readonly Line[], gates: readonly PlanStep[]): Fix | undefined {
  const list = opened.participant.document['close-up'];
  const written = asList(opened.step[opened.verb]);
  const [line, ...others] = lines;
  if (!list || list.length === 0 || !line || others.length > 0 || written.some(isParameter)) return undefined;
  const walked = context.plans.find(({ plan }) => plan.steps.includes(opened));
  const place = walked ? closingPlace(walked.plan, line, gates) : null;
  return place === null ? undefined : addStepFix(list, place, `${closerOf(line.pair)}: ${line.object.split('@')[0]}`);
}
