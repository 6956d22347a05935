import { called } from '../../ledger/called.js';
import { goesBackOld } from '../../plan/plan.js';
import { beltsOf } from '../belts.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../../library/names-in-words.js';
import { partsWhere } from '../parts-where.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { didBefore, onlyPrepares } from '../steps.js';

const propshaft = (mark: string, told = ''): string =>
  procedure(`parts: { propshaft: { name: propshaft } }
steps:
${mark}  - remove: propshaft${told}
close-up:
  - fit: propshaft
`);

export const rule: Rule = {
  name: 'check/not-marked',
  severity: 'info',
  finds: 'A propshaft, a steering wheel, bearing caps or a belt that go back as they were come off unmarked (common practice, no source).',
  why: 'A propshaft turned by half is out of balance, a steering wheel stands askew, a bearing cap on another journal seizes, a used belt that runs the other way tears.',
  mend: 'Add `mark:` before it comes off: a shaft across both flanges, caps with their numbers, a belt with its direction; or say at `fit:` which way it runs.',
  bad: propshaft('', ' # <-'),
  good: propshaft('  - mark: propshaft\n    says: Paint across both flanges.\n'),
  check(context, tell) {
    for (const { place, object } of firstFound(context.placesOf('remove'), comesOffUnmarked))
      tell({
        span: spanOfObject(place.plan, place.planned, object),
        about: object,
        message: `${called(place.planned, object)} comes off here and goes back as it was, and nothing marks how it sat. Put \`mark: ${object}\` before this step.`,
      });
  },
};

/** What is balanced, matched or centred where it sits, by its name; in the languages of the tool. */
const matchedOf = partsWhere(({ name }, id) =>
  /\b(prop ?shaft|propeller shaft|kardanwelle|gelenkwelle|steering wheel|lenkrad)\b|\b(big ends?|main bearing|cam(shaft)? bearing|(connecting|con) ?rod) caps?\b|(pleuel|kurbelwellen|nockenwellen|haupt)lagerdeckel\b/.test(
    inWords(id, name),
  ),
);

function comesOffUnmarked(place: PlanPlace, object: string): boolean {
  const { plan, planned } = place;
  const { scope } = planned.participant;
  const isBelt = beltsOf(scope).has(object);
  if ((!isBelt && !matchedOf(scope).has(object)) || onlyPrepares(plan) || didBefore(place, 'mark', object)) return false;
  const back = place.after.find(({ verb, objects }) => verb === 'fit' && objects.includes(object));
  return back !== undefined && goesBackOld(plan, back, object) && !(isBelt && direction.test(back.step.says ?? ''));
}

/** That who wrote it has thought of which way a belt runs; in the languages of the tool. */
const direction = /direction|arrow|laufrichtung|pfeil/i;
