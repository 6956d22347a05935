import { called } from '../../ledger/called.js';
import type { PlanStep } from '../../plan/plan.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { fillPlugsOf } from '../fill-points.js';
import type { Rule } from '../rule.js';

const gearbox = (first: string, second: string): string =>
  procedure(`parts: { filler: { name: filler plug, circuit: coolant, role: fill-point, fasteners: pump-bolts, seal: used-again } }
steps:
${first}${second}close-up:
  - close: tap
  - fill: coolant
  - close: filler
  - tighten: filler
`);
const drain = '  - open: tap\n  - drain: coolant\n';
const filler = '  - open: filler\n';

export const rule: Rule = {
  name: 'fluid/fill-plug-later',
  severity: 'warning',
  finds: 'A plug through which a fluid is filled in is opened only after the drain (common practice, no source).',
  why: 'If it does not come loose, the gearbox stands there empty.',
  mend: 'Open the fill plug before the drain.',
  bad: gearbox(drain.replace('tap\n', 'tap # <-\n'), filler),
  good: gearbox(filler, drain),
  check(context, tell) {
    for (const place of context.placesOf('drain')) {
      const { plan, planned } = place;
      const { scope } = planned.participant;
      for (const fluid of planned.objects) {
        const plugs = fillPlugsOf(scope, fluid);
        if (plugs.length === 0) continue;
        const drains = (scope.fluids.get(fluid)?.drains ?? []).flatMap(({ through }) => through);
        // What is opened for the drain lets it out, whatever stands between the two.
        const out = place.before.find((step) => opens(step, drains)) ?? planned;
        const at = plan.steps.indexOf(out);
        const first = plan.steps.findIndex((step) => opens(step, plugs));
        const later = first > at ? plan.steps[first] : undefined;
        if (!later) continue;
        tell({
          span: spanOfObject(plan, out, out.objects.find((object) => object === fluid || drains.includes(object)) ?? fluid),
          about: fluid,
          message: `${called(planned, fluid)} is let out before its fill plug is open: if that does not come loose, nothing goes back in. Put ${stepWords(later)} before this step.`,
          related: [{ span: stepSpan(later), message: 'opened only here' }],
        });
      }
    }
  },
};

const opens = ({ verb, objects }: PlanStep, any: readonly string[]): boolean =>
  (verb === 'open' || verb === 'remove') && objects.some((object) => any.includes(object));
