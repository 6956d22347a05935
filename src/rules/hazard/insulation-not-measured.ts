import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const pack = (measure: string, mark = ''): string =>
  procedure(`measurements:
  dead: { name: voltage at the service plug, limit: max 60 V, with: two-pole tester, outside: Stop; it is live. }
${measure === '' ? '' : '  insulation: { name: insulation of each pole to the body, limit: min 1 MΩ, with: insulation tester, outside: Stop; find the fault. }\n'}parts: { pack: { name: battery pack cover, hazard: high-voltage, opened-after: [ignition-off, dead] } }
steps:
  - switch-off: ignition
  - isolate: high-voltage
  - lock: service-plug
  - wait: ignition-off
  - measure: dead
    second-person: tester proved before and after
    wear: [insulating-gloves]
    qualification: high voltage
  - remove: pack
    danger: Live parts kill. Prove dead first.
    wear: [insulating-gloves]
    qualification: high voltage
close-up:
  - fit: pack
  - unlock: service-plug
${measure}  - energise: high-voltage${mark}
    qualification: high voltage
  - switch-on: ignition
`);

export const rule: Rule = {
  name: 'hazard/insulation-not-measured',
  severity: 'warning',
  finds: 'High voltage was open and is energised again without a reading of its insulation (common practice, no source).',
  why: 'A pinched cable or a drop of coolant puts the voltage on the body; whoever touches it next finds out.',
  mend: 'Put a `measure:` in ohms before `energise:`, with the limit of the maker.',
  bad: pack('', ' # <-'),
  good: pack('  - measure: insulation\n'),
  check(context, tell) {
    const opened = new Map(
      context
        .placesOf(takingApart)
        .flatMap((place) => (place.dangers.some(({ source }) => source.hazard === 'high-voltage') ? [[place.plan, place.index]] : [])),
    );
    if (opened.size === 0) return;
    for (const place of context.placesOf('energise')) {
      const since = opened.get(place.plan);
      const [object] = place.planned.objects;
      if (since === undefined || since > place.index || object === undefined || isMeasured(place, since)) continue;
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `\`${object}\` was open and is energised here, and no step since then measures its insulation. Put a \`measure:\` in ohms, each pole to the body, before this step; the maker’s limit and local law come first.`,
      });
    }
  },
};

const isMeasured = ({ plan, index }: PlanPlace, since: number): boolean =>
  plan.steps.slice(since + 1, index).some(
    ({ verb, objects, participant }) =>
      verb === 'measure' &&
      objects.some((object) => {
        const { limit, unit } = participant.scope.measurements.get(object) ?? {};
        return limit ? limit.unit.dimension === 'resistance' : /Ω|ohm/i.test(unit ?? '');
      }),
  );
