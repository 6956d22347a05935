import type { Scope } from '../../library/scope.js';
import type { PlanStep } from '../../plan/plan.js';
import { spanOfObject } from '../context.js';
import { openThePack } from '../examples.js';
import { wordsOf } from '../../library/names-in-words.js';
import type { PlanPlace } from '../places.js';
import { lacksReadings, proofIn } from '../proof-dead.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const said = ' before and after';

export const rule: Rule = {
  name: 'hazard/tester-not-proved',
  severity: 'warning',
  finds:
    'High voltage is proved dead with a tester that nobody proves, before and after, at a source that is live (EN 50110-1, 6.2.4, from memory).',
  why: 'A tester that is broken shows no voltage on a live part as well.',
  mend: 'Measure the tester at its proving unit before the proof and after it; or say so at the proof.',
  bad: openThePack(said, 'measure: dead'),
  good: openThePack(),
  check(context, tell) {
    for (const place of context.placesOf('measure')) {
      const { plan, planned } = place;
      const proof = proofIn(planned);
      if (proof === undefined || !isIsolated(place) || saysSo(planned) || lacksReadings(planned.participant.scope)) continue;
      const missing = [provesTester(place.before) ? '' : 'before', provesTester(untilOpen(place)) ? '' : 'after'].filter(Boolean);
      if (missing.length === 0) continue;
      tell({
        span: spanOfObject(plan, planned, proof),
        about: proof,
        message: `\`${proof}\` proves high voltage dead, and nobody proves the tester ${missing.join(' and ')} it: a broken one shows no voltage either. Put a \`measure:\` of the tester at its proving unit (a limit of at least so many volts) ${missing.join(' and ')} this step; local law comes first.`,
      });
    }
  },
};

/** Whether high voltage is isolated at a place. */
const isIsolated = ({ before }: PlanPlace): boolean =>
  before.findLast(
    ({ verb, objects }) => (verb === 'isolate' || verb === 'energise') && objects.some((one) => /high-voltage|hochvolt/.test(one)),
  )?.verb === 'isolate';

const beforeAndAfter = /\bbefore and after\b|\b(vor|davor|vorher) und (nach|danach|nachher)\b/i;

/** Whether the proof itself says that the tester is proved before and after; not enough where a reading of it is declared. */
const saysSo = ({ step, participant: { scope } }: PlanStep): boolean =>
  beforeAndAfter.test(`${step.says ?? ''} ${step.why ?? ''} ${step['second-person'] ?? ''}`) &&
  ![...scope.measurements.keys()].some((one) => ofTester.test(wordsOf(scope, one)) && mustBeLive(scope, one));

const ofTester = /\b(tester|detector|proving unit|spannungspr(ü|ue)fer|pr(ü|ue)fger(ä|ae)t)\b/;
const looking: ReadonlySet<string> = new Set(['measure', 'test', 'check', 'confirm', 'inspect']);

/** Whether a reading is of a voltage that must be there. */
function mustBeLive({ measurements }: Scope, object: string): boolean {
  const limit = measurements.get(object)?.limit;
  return limit?.unit.dimension === 'voltage' && limit.low !== null;
}

/** Whether one of some steps proves the tester: a voltage that must be there, or by its words. */
const provesTester = (steps: readonly PlanStep[]): boolean =>
  steps.some(
    ({ verb, objects, step, participant: { scope } }) =>
      looking.has(verb) &&
      objects.some((object) => mustBeLive(scope, object) || ofTester.test(`${wordsOf(scope, object)} ${(step.says ?? '').toLowerCase()}`)),
  );

/** The steps after a place, until something with high voltage is taken apart. */
function untilOpen({ after }: PlanPlace): readonly PlanStep[] {
  const open = after.findIndex(
    ({ verb, objects, participant: { scope } }) =>
      takingApart.includes(verb) && objects.some((object) => scope.parts.get(object)?.hazard === 'high-voltage'),
  );
  return open < 0 ? after : after.slice(0, open);
}
