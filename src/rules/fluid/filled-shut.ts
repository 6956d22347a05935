import { oneOf } from '../../findings/suggest.js';
import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { fillPlugsOf } from '../fill-points.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { isOpenAt } from '../steps.js';

const gearbox = (open: string, close: string): string =>
  procedure(`parts: { filler: { name: filler plug, circuit: coolant, role: fill-point, fasteners: pump-bolts, seal: used-again } }
steps:
${open}  - open: tap
  - drain: coolant
close-up:
  - close: tap
  - fill: coolant
${close}`);

export const rule: Rule = {
  name: 'fluid/filled-shut',
  severity: 'warning',
  finds: 'A fluid is filled in while the plug that it goes through is shut; a cap is left to who fills.',
  why: 'Who fills opens it all the same; and what no step opens, no step closes, and nobody misses on the floor.',
  mend: 'Open it before, and close and tighten it after.',
  bad: gearbox('', '').replace('fill: coolant\n', 'fill: coolant # <-\n'),
  good: gearbox('  - open: filler\n', '  - close: filler\n  - tighten: filler\n'),
  check(context, tell) {
    for (const place of context.placesOf('fill')) {
      const { plan, planned } = place;
      for (const fluid of planned.objects) {
        const plugs = fillPlugsOf(planned.participant.scope, fluid);
        if (plugs.length === 0 || plugs.some((id) => isOpenAt(place, id)) || isAnyOpen(place, fluid)) continue;
        tell({
          span: spanOfObject(plan, planned, fluid),
          about: fluid,
          message: `${called(planned, fluid)} is filled in here while ${oneOf(plugs)} is shut. Put \`open: ${plugs[0]}\` before this step, and \`close:\` and \`tighten:\` after it: what no step opens, no step closes.`,
        });
      }
    }
  },
};

/** Whether anything of its circuit is open, through which it may be filled. */
const isAnyOpen = (place: PlanPlace, fluid: string): boolean =>
  [...place.planned.participant.scope.parts].some(([id, { circuit }]) => asList(circuit).includes(fluid) && isOpenAt(place, id));
