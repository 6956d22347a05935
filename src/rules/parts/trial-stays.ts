import { called } from '../../ledger/called.js';
import type { VerbName } from '../../ledger/verbs.js';
import { isNewEachTime } from '../../plan/trial.js';
import { spanOfObject } from '../context.js';
import { flangeOn } from '../examples.js';
import type { Rule } from '../rule.js';

const puttingOn: readonly VerbName[] = ['fit', 'connect', 'close', 'tighten'];

export const rule: Rule = {
  name: 'parts/trial-stays',
  severity: 'error',
  finds: 'An old part, seal, nut or bolt that goes on for a trial (`new: false`), is never used again by the profile, and stays.',
  why: 'The trial is over, and what should have been new drives away old.',
  mend: 'Take it off again and put the new one on; or delete `new: false`.',
  bad: flangeOn(' # <-\n    new: false', null),
  good: flangeOn('\n    new: false', ''),
  check(context, tell) {
    for (const { plan, planned } of context.placesOf(puttingOn)) {
      if (planned.step.new !== false) continue;
      const later = plan.steps.slice(plan.steps.indexOf(planned) + 1);
      for (const object of planned.objects) {
        if (!isNewEachTime(planned.participant.scope, planned.verb, object)) continue;
        if (later.some(({ verb, step, objects }) => verb === planned.verb && step.new !== false && objects.includes(object))) continue;
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `${called(planned, object)} goes in new each time, and here the old one goes on for a trial (\`new: false\`) and stays. Take it off again and put the new one on after the trial, or delete \`new: false\`.`,
        });
      }
    }
  },
};
