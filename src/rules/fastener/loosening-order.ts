import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/loosening-order',
  severity: 'info',
  finds: 'A gasketed group is loosened without an order.',
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
      if (planned.step.order) continue;
      const wide = place.joints.find(({ group }) => group?.gasket && (group.count ?? 0) >= 6);
      if (wide)
        tell({
          span: stepSpan(planned),
          message: `\`${wide.joint.group}\` holds a wide gasketed part. Write \`order: reverse\`: loosened in the reverse of the tightening order it does not bend.`,
        });
    }
  },
};
