import { isDueBefore } from '../../ledger/gates.js';
import type { Line } from '../../ledger/ledger.js';
import { temporaryPairs } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import type { Moment, PlanStep } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'gate/too-early',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'An action comes before something that must be closed first: filling with an open drain, cranking with a pin in.',
  why: 'The ledger balances in the end, and still the coolant is on the floor or the pin is bent. Only the order is wrong.',
  mend: 'Move the closing step before this one.',
  bad: procedure('steps:\n  - place: pin\n  - turn: engine # <-\n  - clear: pin\n'),
  good: procedure('steps:\n  - place: pin\n  - clear: pin\n  - turn: engine\n'),
  check(context, tell) {
    for (const { gate, lines } of context.problems('late')) {
      const named = lines.map((line) => called(line.opened, line.object)).join(', ');
      const closing = lines.length === 1 ? 'the step that closes it' : 'the steps that close them';
      const moment = laterMoment(gate, lines);
      tell({
        span: spanOf(gate.step, gate.verb),
        message: `${stepWords(gate)} comes too early: still open or in place: ${named}. Move ${moment ? `it to \`final: ${moment}:\`, which comes after ${closing}` : `${closing} before this one`}.${fillPoint(gate)}${mayStay(gate, lines)}`,
        related: lines.flatMap((line) => [
          { span: stepSpan(line.opened), message: `${line.object}: open since here` },
          ...(line.closed ? [{ span: stepSpan(line.closed), message: `${line.object}: closed only here` }] : []),
        ]),
      });
    }
  },
};

/** Where nothing is said to be what a fluid is filled through, it may be what is open. */
function fillPoint({ verb, objects, participant }: PlanStep): string {
  if (verb !== 'fill') return '';
  const parts = [...participant.scope.parts.values()].filter(({ role }) => role === 'fill-point');
  const without = objects.find((fluid) => !parts.some(({ circuit }) => asList(circuit).includes(fluid)));
  return without === undefined
    ? ''
    : ` What \`${without}\` is filled through may stay open, if the profile says \`role: fill-point\` of it.`;
}

/** What no moving part can reach stands in the way by the table only as long as the profile does not know better. */
function mayStay(gate: PlanStep, lines: readonly Line[]): string {
  if (gate.verb !== 'crank' && gate.verb !== 'start' && gate.verb !== 'energise') return '';
  const perhaps = lines.filter(
    (line) => temporaryPairs.has(line.pair) && line.pair !== 'switch-off' && line.object !== 'high-voltage' && !isDueBefore(line, gate),
  );
  const named = perhaps.map(({ object }) => `\`${object}\``).join(', ');
  const said = `may-stay: [${gate.verb} ${gate.objects.join(' ')}]`;
  return named === '' ? '' : ` What does no harm there may stay, if the profile says so: \`${said}\` at ${named}.`;
}

/** Where a step belongs for which the documents that it needs have not yet closed what they opened; null where that is not why. */
function laterMoment(gate: PlanStep, lines: readonly Line[]): Moment | null {
  const isTheirs = lines.every(({ closed }) => closed && closed.participant !== gate.participant && closed.section === 'final');
  if (gate.section === 'final' || !isTheirs) return null;
  if (gate.step.wheels === 'on-ground') return 'ground';
  return gate.verb === 'drive' ? 'road' : null;
}
