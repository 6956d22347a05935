import { called } from '../../ledger/called.js';
import { jointsNamed } from '../../ledger/joints.js';
import type { VerbName } from '../../ledger/verbs.js';
import { type PlanStep, putsOnOld } from '../../plan/plan.js';
import { takesNew } from '../../plan/trial.js';
import { spanOfObject } from '../context.js';
import { flangeOn } from '../examples.js';
import type { Rule } from '../rule.js';

const puttingOn: readonly VerbName[] = ['fit', 'connect', 'close', 'tighten'];

export const rule: Rule = {
  name: 'parts/trial-stays',
  severity: 'error',
  finds: 'An old part, seal, nut or bolt that goes on for a trial (`new: false`) and stays, though it is to be new.',
  why: 'The trial is over, and what should have been new drives away old.',
  mend: 'Take it off again and put the new one on; or delete `new: false`.',
  bad: flangeOn(' # <-\n    new: false', null),
  good: flangeOn('\n    new: false', ''),
  check(context, tell) {
    for (const { plan, planned } of context.placesOf(puttingOn)) {
      if (!putsOnOld(planned)) continue;
      const later = plan.steps.slice(plan.steps.indexOf(planned) + 1);
      for (const object of planned.objects) {
        if (!takesNew(plan, planned, object)) continue;
        if (later.some((step) => step.verb === planned.verb && !putsOnOld(step) && isDoneTo(step, object))) continue;
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `${called(planned, object)} goes in new, and here the old one goes on for a trial (\`new: false\`) and stays. Take it off again and put the new one on after the trial, or delete \`new: false\`.`,
        });
      }
    }
  },
};

/** Whether a step does what it does to an object; a joint may be called by its group or by what it holds. */
function isDoneTo({ verb, objects, participant: { scope } }: PlanStep, object: string): boolean {
  if (objects.includes(object)) return true;
  if (verb !== 'tighten') return false;
  const done = new Set(objects.flatMap((one) => jointsNamed(scope, one).map(({ key }) => key)));
  const joints = jointsNamed(scope, object);
  return joints.length > 0 && joints.every(({ key }) => done.has(key));
}
