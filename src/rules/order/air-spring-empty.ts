import { called } from '../../ledger/called.js';
import type { PlanStep } from '../../plan/plan.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { inWords, wordsOf } from '../../library/names-in-words.js';
import { firstObjectOf, partsWhere } from '../parts-where.js';
import type { Rule } from '../rule.js';

const strut = (fill: string): string =>
  procedure(`parts: { air-spring: { name: rear air spring, hazard: compressed-air, opened-after: [ignition-off] } }
steps:
  - raise: vehicle
  - wait: ignition-off
  - remove: air-spring
    warning: Air under pressure throws parts.
    wear: [eyes]
close-up:
  - fit: air-spring # <-
${fill}final:
  ground:
    - lower: vehicle
`);

export const rule: Rule = {
  name: 'order/air-spring-empty',
  severity: 'warning',
  finds: 'The vehicle comes down on an air spring that was off and that no step has filled (common practice, no source).',
  why: 'Without air its bellows fold, are pinched, and leak from the first day.',
  mend: 'Fill it before `lower:`, to the pressure of the maker, with the wheels hanging.',
  bad: strut(''),
  good: strut('  - adjust: rear-air\n    says: 3 bar, the wheels hanging.\n').replace(' # <-', ''),
  check(context, tell) {
    for (const place of context.placesOf('fit')) {
      const { plan, planned } = place;
      const spring = firstObjectOf(planned, airSprings);
      if (spring === undefined) continue;
      const { after } = place;
      const down = after.findIndex(({ verb }) => verb === 'lower');
      const lowered = after[down];
      if (lowered === undefined || after.slice(0, down).some(fillsIt)) continue;
      tell({
        span: spanOfObject(plan, planned, spring),
        about: spring,
        message: `${called(planned, spring)} goes back empty, and ${stepWords(lowered)} comes before any step fills it: its bellows fold under the weight. Put the step that fills it before that, with the pressure of the maker.`,
        related: [{ span: stepSpan(lowered), message: 'the weight comes on it here' }],
      });
    }
  },
};

/** Springs of air, by their names; in the languages of the tool. */
const airSprings = partsWhere(({ name }, id) =>
  /\bair (spring|strut|bellow)s?\b|\bluftfeder|\bluftbalg|\bluftb(ä|ae)lge/.test(inWords(id, name)),
);

const filling: ReadonlySet<string> = new Set(['fill', 'pressurise', 'run', 'adjust', 'check', 'test', 'measure', 'energise', 'inspect']);

const fillsIt = ({ verb, objects, step, participant: { scope } }: PlanStep): boolean =>
  filling.has(verb) &&
  [...objects.map((object) => wordsOf(scope, object)), (step.says ?? '').toLowerCase()].some((words) =>
    /\bair\b|\bbar\b|pressure|fill|inflat|luft|druck|f(ü|ue)ll/.test(words),
  );
