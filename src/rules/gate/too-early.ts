import { runsEngine } from '../../ledger/engine.js';
import { isDueBefore } from '../../ledger/gates.js';
import type { Line } from '../../ledger/ledger.js';
import { temporaryPairs } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import type { Library } from '../../library/library.js';
import { inWords } from '../../library/names-in-words.js';
import { asList } from '../../library/scope.js';
import { neededBy } from '../../plan/needs.js';
import type { Moment, PlanStep } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import { brakesOf } from '../brakes.js';
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
      const names = lines.map((line) => called(line.opened, line.object));
      const named =
        names.length > mostNamed
          ? `${names.slice(0, mostNamed - 2).join(', ')} and ${names.length - mostNamed + 2} more`
          : names.join(', ');
      tell({
        span: spanOf(gate.step, gate.verb),
        message: `${stepWords(gate)} comes too early: still open or in place: ${named}. ${wayOut(context.library, gate, lines)}${fillPoint(gate, lines)}${mayStay(gate, lines)}`,
        related: lines.flatMap((line) => [
          { span: stepSpan(line.opened), message: `${called(line.opened, line.object)}: open since here` },
          ...(line.closed ? [{ span: stepSpan(line.closed), message: `${called(line.opened, line.object)}: closed only here` }] : []),
        ]),
      });
    }
  },
};

/** Where more than these stand in the way, not all are named. */
const mostNamed = 10;

/** Where nothing is said to be what a fluid is filled through, it may be what is open; or the words of the step say so. */
function fillPoint({ verb, objects, step, participant }: PlanStep, lines: readonly Line[]): string {
  if (verb !== 'fill') return '';
  const says = inWords(step.says ?? '', undefined);
  const through = lines.find(({ object }) => says.includes(inWords(object, undefined).trim()));
  if (through)
    return ` Where \`${objects[0]}\` goes in through \`${through.object}\`, the profile says so there: \`may-stay: [fill ${objects[0]}]\`.`;
  const parts = [...participant.scope.parts.values()].filter(({ role }) => role === 'fill-point');
  const pushed = objects.find((fluid) => brakesOf(participant.scope).circuits.has(fluid));
  if (pushed !== undefined)
    return ` Where new fluid pushes the old out through it, the profile says so at what is open: \`may-stay: [fill ${pushed}]\`.`;
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

/** What to do about it: where the step belongs, as far as that follows from who closes what stands in its way. */
function wayOut(library: Library, gate: PlanStep, lines: readonly Line[]): string {
  const closing = lines.length === 1 ? 'the step that closes it' : 'the steps that close them';
  if (gate.section !== 'final' && lines.every(({ closed }) => closed && closed.participant !== gate.participant)) {
    const { id } = gate.participant.document;
    const own = neededBy(library, [id]);
    const theirs = lines.flatMap(({ opened }) => (own.has(opened.participant.document.id) ? [] : [opened]));
    const other = theirs.find(({ section }) => section === 'work')?.participant.document.id;
    if (theirs.length === lines.length && gate.section === 'work' && runsEngine.has(gate.verb))
      return other === undefined
        ? `Preparations are done before any work. Write what is done while the engine runs as a preparation that \`${id}\` needs: such a one comes before the others. Or give this work a job of its own.`
        : `\`${other}\`, which has that open, comes first in the \`work:\` of this job. Put \`${id}\` before it, or give it a job of its own.`;
    const moment = laterMoment(gate);
    if (moment) {
      const before =
        gate.section === 'work' && runsEngine.has(gate.verb)
          ? ` Where it must run before, write that as a preparation that \`${id}\` needs.`
          : '';
      return `Move it to \`final: ${moment}:\`, which comes after ${closing}.${before}`;
    }
  }
  return `Move ${closing} before this one.`;
}

/** The moment of the finals to which a step belongs; null where none is for it. */
function laterMoment(gate: PlanStep): Moment | null {
  if (gate.step.wheels === 'on-ground') return 'ground';
  if (gate.verb === 'drive') return 'road';
  return runsEngine.has(gate.verb) ? 'running' : null;
}
