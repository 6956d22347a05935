import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import { isDamaged } from '../../schema/origin.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../../library/names-in-words.js';
import { partsWhere } from '../parts-where.js';
import type { Rule } from '../rule.js';
import { did, didBefore, takingApart } from '../steps.js';

const pan = 'parts: { pan: { name: pan, circuit: coolant, beneath: true, seal: used-again } }\n';
const around = (first: string, second: string) =>
  procedure(
    `${pan}steps:\n  - raise: vehicle\n  - open: [tap, cap]\n${first}${second}close-up:\n  - fit: pan\n  - close: tap\n  - fill: coolant\n  - close: cap\nfinal: { ground: [{ lower: vehicle }] }\n`,
  );

export const rule: Rule = {
  name: 'fluid/not-drained',
  severity: 'warning',
  finds: 'What is reached from beneath is opened before its fluid, which a later step drains, is out.',
  why: 'All of it comes at once, over whoever stands below and past the vessel.',
  mend: 'Put the `drain:` before this step.',
  bad: around('  - remove: pan # <-\n', '  - drain: coolant\n'),
  good: around('  - drain: coolant\n', '  - remove: pan\n'),
  check(context, tell) {
    for (const place of context.placesOf(takingApart)) {
      const { planned, plan } = place;
      const { scope } = planned.participant;
      const { parts, fluids } = scope;
      for (const object of planned.objects) {
        if (!full(scope).has(object)) continue;
        for (const id of asList(parts.get(object)?.circuit)) {
          const fluid = fluids.get(id);
          const isDrain = fluid?.drains?.some((way) => way.through.includes(object));
          if (!fluid || isDrain || isDamaged(fluid) || didBefore(place, 'drain', id) || !did(plan.steps, 'drain', id)) continue;
          tell({
            span: stepSpan(planned),
            about: id,
            message: `${called(planned, object)} is opened from beneath while ${called(planned, id)} is still in it; a later step drains it. Put \`drain: ${id}\` before this step.`,
          });
        }
      }
    }
  },
};

/** What empties a circuit over whoever opens it from beneath; a filter only what stands in it. */
const full = partsWhere(
  ({ name, beneath, role, circuit }, id) =>
    beneath === true && role !== 'fill-point' && circuit !== undefined && !/filter\b/.test(inWords(id, name)),
);
