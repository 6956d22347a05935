import type { VerbName } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import { oneOf } from '../../findings/suggest.js';
import { asList } from '../../library/scope.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import { fillPlugsOf, fillPointsOf } from '../fill-points.js';
import type { Rule } from '../rule.js';
import { did, isOpenAt } from '../steps.js';

const flowing: readonly VerbName[] = ['drain', 'fill'];

export const rule: Rule = {
  name: 'fluid/nothing-open',
  severity: 'warning',
  finds: 'A fluid is drained, or filled in, while what it flows through is closed.',
  why: 'It cannot be done in this order; whoever tries opens something at the wrong moment.',
  mend: 'Open the drain, or the fill point, before this step, and close it after.',
  bad: procedure('steps:\n  - open: [tap, cap]\n  - drain: coolant\nclose-up:\n  - close: [tap, cap]\n  - fill: coolant # <-\n'),
  good: procedure('steps:\n  - open: [tap, cap]\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n  - close: cap\n'),
  check(context, tell) {
    for (const place of context.placesOf(flowing)) {
      const { planned } = place;
      for (const fluid of planned.objects) {
        const ways = waysOf(place, fluid);
        if (ways.length === 0 || ways.some((way) => isOpenAt(place, way))) continue;
        tell({
          span: stepSpan(planned),
          about: fluid,
          message: `${called(planned, fluid)} is ${planned.verb === 'fill' ? 'filled in' : 'drained'} here through ${oneOf(ways)}, ${ways.length === 1 ? 'which is not open' : 'and none of these is open'} at this step. Open it before, and close it after.`,
        });
      }
    }
  },
};

/**
 * What a fluid is let out or filled in through, as far as the plan opens it at all: what it never opens is told elsewhere, or
 * is no matter. A plug is one: what no step opens, no step closes and tightens.
 */
function waysOf(place: PlanPlace, fluid: string): readonly string[] {
  const { planned, plan } = place;
  const { scope } = planned.participant;
  const fills = planned.verb === 'fill';
  const ways = fills ? fillPointsOf(scope, fluid) : (scope.fluids.get(fluid)?.drains ?? []).flatMap((way) => way.through);
  const opened = [...new Set(ways)].filter((way) => did(plan.steps, 'open', way) || did(plan.steps, 'remove', way));
  return fills && opened.length === 0 && !isAnyOpen(place, fluid) ? fillPlugsOf(scope, fluid) : opened;
}

/** Whether anything of its circuit is open, through which it may be filled. */
const isAnyOpen = (place: PlanPlace, fluid: string): boolean =>
  [...place.planned.participant.scope.parts].some(([id, { circuit }]) => asList(circuit).includes(fluid) && isOpenAt(place, id));
