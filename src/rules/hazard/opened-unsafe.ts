import { spanOf } from '../../schema/origin.js';
import { stepSpan, stepWords } from '../context.js';
import type { PlanStep } from '../../plan/plan.js';
import { sinceRun } from '../dangers.js';
import { openTheRail } from '../examples.js';
import { did, lettingOut } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'hazard/opened-unsafe',
  severity: 'error',
  finds: 'Something dangerous is opened before its safe condition: a waiting time or a measurement of the vehicle profile.',
  why: 'Hot coolant, fuel under pressure and a charged restraint hurt whoever opens them too early.',
  mend: 'Put the `wait:` or `measure:` that the profile names before the step.',
  bad: openTheRail('  - wait: ignition-off\n'),
  good: openTheRail(),
  check(context, tell) {
    for (const place of context.placesOf(lettingOut)) {
      const { planned } = place;
      for (const { object, source, name } of place.dangers) {
        const isCharge = planned.participant.scope.charges.has(name);
        // Recovering a charge is how it becomes safe.
        if (planned.verb === 'drain' && isCharge) continue;
        if (isCharge && !did(place.before, 'drain', name)) {
          tell({
            span: stepSpan(planned),
            message: `\`${object}\` is opened here while \`${name}\` (${source.hazard}) is still in it. Put \`drain: ${name}\` before this step: it is recovered, and never let out.`,
          });
          continue;
        }
        // What came out is known only when it is out.
        const recovered = isCharge ? place.before.findLastIndex(({ verb, objects }) => verb === 'drain' && objects.includes(name)) : 0;
        const before = sinceRun(place.before.slice(recovered), source.hazard);
        const missing = (source['opened-after'] ?? []).filter((one) => !isMet(before, one));
        if (missing.length === 0) continue;
        const { waits } = planned.participant.scope.vehicle ?? {};
        const [ran] = !isCharge && missing.some((one) => isMet(place.before, one)) ? before : [];
        const steps = missing.map((one) => `\`${waits?.[one] ? 'wait' : 'measure'}: ${one}\``).join(' and ');
        tell({
          span: stepSpan(planned),
          message: `\`${object}\` is opened here, and \`${name}\` (${source.hazard}) may be opened only after ${steps}. Put that before this step${ran ? `, and after ${stepWords(ran)}: from there it is hot, or under pressure, again` : ''}.`,
          related: [{ span: spanOf(source, 'opened-after'), message: 'the safe condition of the profile' }],
        });
      }
    }
  },
};

const isMet = (steps: readonly PlanStep[], condition: string): boolean =>
  steps.some(({ verb, objects }) => (verb === 'wait' || verb === 'measure') && objects.includes(condition));
