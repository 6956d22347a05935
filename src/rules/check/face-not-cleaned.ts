import { clampsGasket } from '../../ledger/joints.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { type PlanStep, putsOnOld } from '../../plan/plan.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'check/face-not-cleaned',
  severity: 'info',
  finds: 'A gasketed part goes back and nobody cleaned its face.',
  why: 'A thread of the old gasket leaks like a hole.',
  mend: 'Add `clean:` with the method and what must not be used.',
  bad: procedure(`parts: { lid: { name: lid, seal: used-again, fasteners: lid-bolts } }
fasteners: { lid-bolts: { count: 4, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, gasket: true, sequence: star, stages: [{ torque: 9 N·m }] } }
steps:
  - remove: lid # <-
close-up:
  - fit: lid
  - tighten: lid
`),
  good: procedure(`parts: { lid: { name: lid, seal: used-again, fasteners: lid-bolts } }
fasteners: { lid-bolts: { count: 4, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, gasket: true, sequence: star, stages: [{ torque: 9 N·m }] } }
steps:
  - remove: lid
  - clean: lid-face
    says: Plastic scraper only; dry and free of oil.
close-up:
  - fit: lid
  - tighten: lid
`),
  check(context, tell) {
    for (const place of context.placesOf('remove')) {
      const { plan, planned } = place;
      for (const object of planned.objects) {
        if (!clampsGasket(planned.participant.scope, object, plan.facts) || isCleaned(place, object)) continue;
        tell({
          span: stepSpan(planned),
          message: `\`${object}\` clamps a gasket, and nothing in this document cleans its face before it goes back. Add \`clean:\` with the method (plastic scraper, dry and free of oil).`,
        });
      }
    }
  },
};

/** Whether its document cleans anything before the part goes back; on for a trial it had no gasket. */
function isCleaned({ planned, before, after }: PlanPlace, object: string): boolean {
  const fits = (step: PlanStep) => step.verb === 'fit' && step.objects.includes(object);
  const last = before.findLast(fits);
  if (last && putsOnOld(last)) return true;
  const back = after.findIndex(fits);
  return after
    .slice(0, back < 0 ? after.length : back)
    .some((step) => step.verb === 'clean' && step.participant.document === planned.participant.document);
}
