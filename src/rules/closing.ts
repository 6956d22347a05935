import type { Fix } from '../findings/finding.js';
import { addStepFix } from '../findings/fixes.js';
import { jointsOfPart, jointsOfStep } from '../ledger/joints.js';
import type { Line } from '../ledger/ledger.js';
import { closerOf, verbOf } from '../ledger/verbs.js';
import { behindIt } from '../ledger/covers.js';
import { asList, isParameter } from '../library/scope.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import { type WrittenStep, writtenIn } from '../plan/written.js';
import { wholeSpan } from '../schema/origin.js';
import type { LeftOpen, RuleContext } from './context.js';

/** The step that closes what is left open, where it belongs; certain where its name is written out, and one place is right. */
export function closingFix(context: RuleContext, { opened, lines, gates }: LeftOpen): Fix | undefined {
  const list = opened.participant.document['close-up'];
  const written = asList(opened.step[opened.verb]);
  const [line, ...others] = lines;
  if (!list || list.length === 0 || !line || others.length > 0 || written.some(isParameter)) return undefined;
  const walked = context.plans.find(({ plan }) => plan.steps.includes(opened));
  const place = walked ? closingPlace(walked.plan, line, gates) : null;
  if (place === null) return undefined;
  const step = `${closerOf(line.pair)}: ${line.object.split('@')[0]}`;
  // Behind the one before it where there is one: a remark above the next stays with that.
  return place === 0 ? addStepFix('before', wholeSpan(list, 0), step) : addStepFix('behind', wholeSpan(list, place - 1), step);
}

/**
 * Where in the close-up of the document that opened a line the step belongs that closes it, as a place in that list: right
 * before its joints are tightened; without joints, right before what closes things opened earlier, as what was opened last is
 * closed first. In any case before the first step that must find it closed, and behind what closes things that lie behind it.
 * @param gates steps that must find it closed
 * @returns null where more than one place could be meant
 */
function closingPlace(plan: Plan, { opened, object, kind }: Line, gates: readonly PlanStep[]): number | null {
  const { document, scope } = opened.participant;
  const {
    steps,
    chains: [closeUp = []],
  } = writtenIn(document);
  const first = (is: (one: WrittenStep, n: number) => boolean): number => {
    const n = closeUp.findIndex(is);
    return n < 0 ? closeUp.length : n;
  };
  const openedAt = steps.findIndex(({ step }) => step === opened.step);
  if (openedAt < 0) return null;
  /** Which of the opening steps each step of the close-up undoes; -1 for none. */
  const undone = closeUp.map(({ verb, names }) => {
    const pair = verb && verbOf(verb).closes;
    return steps.findLastIndex((one) => one.verb === pair && one.names.some((name) => names.includes(name)));
  });
  const undoes = (n: number): number => undone[n] ?? -1;
  const mustFindIt = first(({ step }) => gates.some((gate) => gate.step === step));

  const planned = new Map(plan.steps.filter(({ participant }) => participant.document === document).map((one) => [one.step, one]));
  // A support bears the name of the part that it holds, and has none of its joints.
  const joints = new Set(kind === 'state' ? jointsOfPart(scope, object).map(({ key }) => key) : []);
  const tightened = first(({ verb, step }) => {
    const one = verb === 'tighten' && planned.get(step);
    return one ? jointsOfStep(one, plan.facts).some(({ joint }) => joints.has(joint.key)) : false;
  });
  const hasJoints = tightened < closeUp.length;
  const place = hasJoints
    ? tightened
    : Math.min(
        mustFindIt,
        first((_, n) => undoes(n) >= 0 && undoes(n) < openedAt),
      );

  const behind = behindIt(scope, object);
  const shutsIn = closeUp.some(({ names }, n) => n >= place && undoes(n) >= 0 && names.some((name) => behind.includes(name)));
  if (place > mustFindIt || shutsIn) return null;
  if (hasJoints) return place;
  // Nothing but tightening may lie between it and what is closed before it, or it may belong before that.
  for (let n = place - 1; n >= 0 && undoes(n) < openedAt; n--) if (closeUp[n]?.verb !== 'tighten') return null;
  return closeUp.slice(0, place).some(({ names }) => names.includes(object)) ? null : place;
}
