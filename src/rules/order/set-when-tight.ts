import { called } from '../../ledger/called.js';
import { jointsNamed } from '../../ledger/joints.js';
import type { PlanStep } from '../../plan/plan.js';
import { isTensioner } from '../belts.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../../library/names-in-words.js';
import { partsWhere } from '../parts-where.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const tensioner = (first: string, second: string): string =>
  procedure(`parts: { tensioner: { name: belt tensioner, fasteners: pump-bolts } }
steps:
  - loosen: tensioner
close-up:
${first}${second}`);
const tighten = '  - tighten: tensioner\n';
const adjust = '  - adjust: tensioner\n    says: Until its pointer stands at the mark.\n';

export const rule: Rule = {
  name: 'order/set-when-tight',
  severity: 'warning',
  finds: 'A tensioner or an eccentric is set when its fasteners are tight already.',
  why: 'It cannot move any more: it stands where it stood when it was tightened.',
  mend: 'Put `adjust:` before the tightening.',
  bad: tensioner(tighten, adjust.replace('tensioner\n', 'tensioner # <-\n')),
  good: tensioner(adjust, tighten),
  check(context, tell) {
    for (const place of context.placesOf('adjust'))
      for (const object of place.planned.objects) {
        const tight = tightenedBefore(place, object);
        if (!tight) continue;
        tell({
          span: spanOfObject(place.plan, place.planned, object),
          about: object,
          message: `${called(place.planned, object)} is tight already when it is set here. Put this step before ${stepWords(tight)}.`,
          related: [{ span: stepSpan(tight), message: 'tightened here' }],
        });
      }
  },
};

/** What is set by moving it under its loose fasteners, by its name; in the languages of the tool. */
const movesToSet = partsWhere(({ name, fasteners }, id) => {
  const words = inWords(id, name);
  return fasteners !== undefined && (isTensioner(words) || /eccentric|exzenter/.test(words));
});

/** The step that tightened what holds it, where that is tight at a place. */
function tightenedBefore({ planned, before }: PlanPlace, object: string): PlanStep | null {
  const { scope } = planned.participant;
  if (!movesToSet(scope).has(object)) return null;
  const last = before.findLast(
    ({ verb, objects }) =>
      (verb === 'tighten' || verb === 'loosen') && objects.some((one) => jointsNamed(scope, one).some(({ part }) => part === object)),
  );
  return last?.verb === 'tighten' ? last : null;
}
