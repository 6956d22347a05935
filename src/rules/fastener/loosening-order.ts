import { fastenerOf, jointsOfPart } from '../../ledger/joints.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did } from '../steps.js';

export const rule: Rule = {
  name: 'fastener/loosening-order',
  severity: 'info',
  finds: 'A gasketed group is loosened without an order, or comes off without being loosened before.',
  why: 'A wide part that is let go on one side first bends.',
  mend: 'Write `order: reverse` on the step.',
  bad: procedure(`fasteners:\n  pan-bolts: { count: 8, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, gasket: true, sequence: spiral, stages: [{ torque: 9 N·m }] }\nsteps:
  - loosen: pan-bolts # <-
  - tighten: pan-bolts
`),
  good: procedure(`fasteners:\n  pan-bolts: { count: 8, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, gasket: true, sequence: spiral, stages: [{ torque: 9 N·m }] }\nsteps:
  - loosen: pan-bolts
    order: reverse
  - tighten: pan-bolts
`),
  check(context, tell) {
    for (const place of context.placesOf('loosen')) {
      const { planned } = place;
      if (planned.step.order === 'reverse') continue;
      const wide = place.joints.find(({ group }) => group?.gasket && (group.count ?? 0) >= 6);
      if (wide)
        tell({
          span: stepSpan(planned),
          message: `\`${wide.joint.group}\` holds a wide gasketed part. Write \`order: reverse\`: loosened in the reverse of the tightening order it does not bend.`,
        });
    }
    for (const place of context.placesOf('remove')) {
      const clamped = stretchedOver(place);
      if (clamped !== undefined)
        tell({
          span: stepSpan(place.planned),
          about: clamped,
          severity: 'warning',
          message: `\`${clamped}\` is let go here in any order, and what it clamps may bend. Put \`loosen: ${clamped}\` before this step, with \`order: reverse\`.`,
        });
    }
  },
};

/** A wide gasketed group that is turned by angle, as a cylinder head's, which comes off here and which no step before loosens. */
function stretchedOver({ planned, plan, before }: PlanPlace): string | undefined {
  const { scope } = planned.participant;
  for (const part of planned.objects)
    for (const joint of jointsOfPart(scope, part)) {
      const group = fastenerOf(scope, joint, plan.facts);
      if (!group?.gasket || (group.count ?? 0) < 6 || !group.stages?.some((stage) => stage.angle)) continue;
      if (!did(before, 'loosen', joint.group) && !did(before, 'loosen', part)) return joint.group;
    }
  return undefined;
}
