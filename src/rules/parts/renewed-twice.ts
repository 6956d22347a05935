import type { VerbName } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import { once } from '../../once.js';
import type { Plan, PlanStep } from '../../plan/plan.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const cover = (steps: string) => procedure(`steps:\n  - remove: cover\n  - renew: pump\n${steps}close-up:\n  - fit: cover\n`);

const charged: readonly VerbName[] = ['renew', 'send'];

export const rule: Rule = {
  name: 'parts/renewed-twice',
  severity: 'warning',
  finds: 'A part that two steps renew, or that is sent out twice for the same.',
  why: 'It is bought twice, and the customer pays for both.',
  mend: 'Delete one of the two steps.',
  bad: cover('  - renew: pump # <-\n'),
  good: cover(''),
  check(context, tell) {
    const places = context.placesOf(charged);
    if (places.length < 2) return;
    const firsts = new Map<Plan, Map<string, PlanStep>>();
    for (const { plan, planned } of places)
      for (const object of planned.objects) {
        const first = once(firsts, plan, () => new Map());
        const key = `${planned.verb} ${planned.step.for ?? ''} ${object}`;
        const before = first.get(key);
        if (!before) first.set(key, planned);
        else if (before.step !== planned.step)
          tell({
            span: stepSpan(planned),
            about: object,
            message: `${called(planned, object)} is ${planned.verb === 'renew' ? 'renewed' : 'sent out'} twice in this work, and would be charged twice. Delete one of the two steps.`,
            related: [{ span: stepSpan(before), message: 'the first one' }],
          });
      }
  },
};
