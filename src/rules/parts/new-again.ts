import { called } from '../../ledger/called.js';
import { fastenerOf } from '../../ledger/joints.js';
import { once } from '../../once.js';
import { type Plan, type PlanStep, putsOnOld } from '../../plan/plan.js';
import { spanOfObject, stepSpan } from '../context.js';
import { flangeOn } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

/** A new one that goes in, and that one like it went in before. */
interface Again {
  readonly plan: Plan;
  readonly first: PlanStep;
  readonly step: PlanStep;
  readonly object: string;
}

export const rule: Rule = {
  name: 'parts/new-again',
  severity: 'warning',
  finds: 'What is never used again goes in new twice in the same work.',
  why: 'Two are ordered and charged; for a trial the old one is mostly good enough.',
  mend: 'Write `new: false` at the first of the two steps, if it is a trial with the old one; else allow it with the reason.',
  bad: flangeOn('', ' # <-'),
  good: flangeOn('\n    new: false', ''),
  check(context, tell) {
    const found = [...context.plans.flatMap(({ plan }) => jointsAgain(plan)), ...partsAgain(context.placesOf('fit'))];
    for (const { plan, first, step, object } of found)
      tell({
        span: spanOfObject(plan, step, object),
        about: object,
        message: `${called(step, object)} goes in new here for the second time in this work, so that two are ordered. If the first time is a trial with the old one, write \`new: false\` there.`,
        related: [{ span: stepSpan(first), message: 'the first time' }],
      });
  },
};

/** Joints that were tight, were let go, and are tightened with new fasteners once more. */
function jointsAgain(plan: Plan): readonly Again[] {
  const { tightened } = plan.walk;
  if (!tightened.some(({ timesLetGo }) => timesLetGo > 0)) return none;
  const firsts = new Map<string, { readonly step: PlanStep; readonly timesLetGo: number }>();
  return tightened.flatMap(({ step, joint, timesLetGo }) => {
    const group = fastenerOf(step.participant.scope, joint, plan.facts);
    if (step.verb !== 'tighten' || putsOnOld(step) || step.conditional || group?.reuse !== 'never') return none;
    const first = once(firsts, joint.key, () => ({ step, timesLetGo }));
    return first.timesLetGo === timesLetGo || first.step.participant !== step.participant
      ? none
      : { plan, first: first.step, step, object: joint.group };
  });
}

function partsAgain(places: readonly PlanPlace[]): Again[] {
  const firsts = new Map<Plan, Map<string, PlanStep>>();
  return places.flatMap(({ plan, planned: step }) =>
    putsOnOld(step) || step.conditional
      ? none
      : step.objects.flatMap((object) => {
          if (step.participant.scope.parts.get(object)?.reuse !== 'never') return none;
          const first = once(
            once(firsts, plan, () => new Map<string, PlanStep>()),
            object,
            () => step,
          );
          return first === step || first.participant !== step.participant ? none : { plan, first, step, object };
        }),
  );
}

const none: readonly Again[] = [];
