import { called } from '../../ledger/called.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { fillPlugsOf } from '../fill-points.js';
import type { Rule } from '../rule.js';

const gearbox = (first: string, second: string): string =>
  procedure(`parts: { filler: { name: filler plug, circuit: coolant, role: fill-point, fasteners: pump-bolts, seal: used-again } }
steps:
  - open: tap
${first}${second}close-up:
  - close: tap
  - fill: coolant
  - close: filler
  - tighten: filler
`);
const drain = '  - drain: coolant\n';
const filler = '  - open: filler\n';

export const rule: Rule = {
  name: 'fluid/fill-plug-later',
  severity: 'warning',
  finds: 'A plug through which a fluid is filled in is opened only after the fluid is drained (common practice, no source).',
  why: 'If it does not come loose, the gearbox stands there empty.',
  mend: 'Open the fill plug before the drain.',
  bad: gearbox(drain.replace('\n', ' # <-\n'), filler),
  good: gearbox(filler, drain),
  check(context, tell) {
    for (const place of context.placesOf('drain')) {
      const { plan, planned } = place;
      for (const fluid of planned.objects) {
        const plugs = fillPlugsOf(planned.participant.scope, fluid);
        const opens = (steps: typeof place.before) =>
          steps.find((step) => (step.verb === 'open' || step.verb === 'remove') && plugs.some((id) => step.objects.includes(id)));
        const later = plugs.length > 0 && !opens(place.before) ? opens(place.after) : undefined;
        if (!later) continue;
        tell({
          span: spanOfObject(plan, planned, fluid),
          about: fluid,
          message: `${called(planned, fluid)} is drained before its fill plug is open: if that does not come loose, nothing goes back in. Put ${stepWords(later)} before this step.`,
          related: [{ span: stepSpan(later), message: 'opened only here' }],
        });
      }
    }
  },
};
