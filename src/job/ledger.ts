import { type GateView, isGateByTable, type Loose, standingInTheWay } from '../ledger/gates.js';
import type { Line } from '../ledger/ledger.js';
import { type VerbName, verbOf } from '../ledger/verbs.js';
import { staysChanged } from '../ledger/walk.js';
import type { Scope } from '../library/scope.js';
import { asWritten, type PlanStep } from '../plan/plan.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { sentence } from '../words/words.js';
import { type JobContext, nameOf, nameWithPlace } from './context.js';
import type { CompiledJoints } from './joints.js';

/**
 * What a job opens and closes, and what goes on and is tightened, with what must not be done meanwhile.
 * @param gates how many steps were held against what must be closed before them
 */
export function compileLedger(context: JobContext, joints: CompiledJoints, gates: number): CompiledJob['ledger'] {
  const { lines, fitted } = context.walk;
  const actions = actionsOf(context);
  const codes = new Map([...joints.keys].map(([code, { key }]) => [key, code]));
  return {
    opened: lines.length,
    closed: lines.filter((line) => line.closed !== null).length,
    states: lines.filter((line) => line.kind === 'state').length,
    temporaries: lines.filter((line) => line.kind === 'temporary').length,
    gates,
    lines: lines.map((line) => ({
      name: nameWithPlace(context, line.opened.participant.scope, line.object),
      verb: line.pair,
      temporary: line.kind === 'temporary',
      opened: context.numberOf(line.opened),
      closed: line.closed ? context.numberOf(line.closed) : null,
      count: line.count,
      stays: line.closed ? null : staysChanged(line),
      before: forbidden(context, actions, [line], []),
    })),
    loose: fitted
      .filter((one) => one.tight !== one.fitted)
      .flatMap(({ joint, fitted: put, tight, onGround }) => {
        const { scope } = put.participant;
        const loose = (from: PlanStep, until: PlanStep | null) => ({
          name: nameWithPlace(context, scope, joint.key),
          joint: codes.get(joint.key) ?? null,
          fitted: context.numberOf(from),
          tight: until ? context.numberOf(until) : null,
          before: forbidden(context, actions, [], [{ part: joint.part, fitted: put, onGround: from === onGround }]),
        });
        // What is left to do on the ground may stand in the way of less.
        if (onGround === null || onGround === put) return [loose(put, tight)];
        const [first, then] = [loose(put, onGround), loose(onGround, tight)];
        return first.before.length === then.before.length ? [loose(put, tight)] : [first, then];
      }),
  };
}

/** What is done in this job for which something must be closed, and what anybody might do with a vehicle that stands there. */
function actionsOf({ plan }: JobContext): readonly PlanStep[] {
  const [first] = plan.steps;
  if (!first) return [];
  const participant = { ...first.participant, scope: plan.scope };
  const action = (verb: VerbName, object: string): PlanStep => ({
    ...first,
    participant,
    verb,
    does: verbOf(verb),
    objects: [object],
    lines: [],
    step: {},
  });
  return [...plan.steps.filter(isGateByTable), ...(hasEngine(plan.scope) ? [action('start', 'engine')] : []), action('drive', 'vehicle')];
}

/** Whether a vehicle has an engine, as far as its profile says: electric ones have none. */
const hasEngine = ({ fluids, parts, temporaries }: Scope): boolean =>
  fluids.has('engine-oil') ||
  [...parts.values(), ...temporaries.values()].some((one) => one['due-before']?.some((gate) => /\bengine$/.test(gate)));

/** Actions that must not be done while a line is open or a joint is not tight. */
function forbidden(context: JobContext, actions: readonly PlanStep[], open: readonly Line[], loose: readonly Loose[]): string[] {
  const isRaised = (object: string): boolean => context.walk.lines.some((one) => one.pair === 'raise' && one.object === object);
  const alone: GateView = { open, loose: () => loose, isOpen: () => false, isRaised };
  const stopped = actions.filter((step) => {
    const found = standingInTheWay(step, alone);
    return found.lines.length > 0 || found.loose.length > 0;
  });
  const inWords = (step: PlanStep): string =>
    sentence(
      context.words,
      step.verb,
      step.objects.map((object) => nameOf(context, step.participant.scope, asWritten(step, object))),
    );
  return [...new Set(stopped.map(inWords))];
}
