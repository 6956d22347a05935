import { isPouredBack } from '../../plan/plan.js';
import { numberIn } from '../../quantity/quantity.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'waste/vessel',
  severity: 'error',
  finds: 'A vessel that is too small for what comes out, with a quarter to spare.',
  why: 'What runs over is on the floor and in the drain.',
  mend: 'Give the waste class a larger `vessel:`, or write `into:` on the drain step.',
  bad: {
    ...job('', 'steps:\n  - open: tap\n  - drain: coolant # <-\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('{ name: coolant, per: L }', '{ name: coolant, per: L, vessel: 6 L }'),
  },
  good: {
    ...job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n'),
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('{ name: coolant, per: L }', '{ name: coolant, per: L, vessel: 10 L }'),
  },
  check(context, tell) {
    for (const { plan, planned } of context.placesOf('drain')) {
      for (const object of planned.objects) {
        const fluid = planned.participant.scope.fluids.get(object);
        const vessel =
          planned.step.into ?? (isPouredBack(plan, object) ? undefined : context.library.shop?.waste?.[fluid?.waste ?? '']?.vessel);
        if (!vessel) continue;
        const most = Math.max(0, ...(fluid?.drains ?? []).map((way) => numberIn(way.recovers ?? way.gives, 'L')));
        if (numberIn(vessel, 'L') < most * 1.25 - 1e-9)
          tell({
            span: stepSpan(planned),
            message: `Up to ${most} L of \`${object}\` come out here, and the vessel holds ${vessel.text}. Take one of ${Math.ceil(most * 12.5) / 10} L or more: a quarter above what comes.`,
          });
      }
    }
  },
};
