import { spanOfObject } from '../context.js';
import { openThePack } from '../examples.js';
import type { PlanPlace } from '../places.js';
import { lacksReadings } from '../proof-dead.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

export const rule: Rule = {
  name: 'hazard/insulation-not-measured',
  severity: 'warning',
  finds: 'High voltage was open and is energised again without a reading of its insulation (common practice, no source).',
  why: 'A pinched cable or a drop of coolant puts the voltage on the body; whoever touches it next finds out.',
  mend: 'Put a `measure:` in ohms before `energise:`, with the limit of the maker.',
  bad: openThePack('  - measure: insulation\n', 'energise: high-voltage').replace(/^ {2}insulation: .*\n/m, ''),
  good: openThePack(),
  check(context, tell) {
    const energised = context.placesOf('energise');
    if (energised.length === 0) return;
    const opened = context.placesOf(takingApart).filter((place) => place.dangers.some(({ source }) => source.hazard === 'high-voltage'));
    for (const place of energised) {
      const since = Math.max(-1, ...opened.flatMap(({ plan, index }) => (plan === place.plan && index < place.index ? [index] : [])));
      const [object] = place.planned.objects;
      if (since < 0 || object === undefined || isMeasured(place, since) || lacksReadings(place.planned.participant.scope)) continue;
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
