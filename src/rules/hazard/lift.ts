import type { VerbName } from '../../ledger/verbs.js';
import { isShipped } from '../../library/library.js';
import { inUnit } from '../../quantity/quantity.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const lifting: readonly VerbName[] = ['remove', 'fit'];

export const rule: Rule = {
  name: 'hazard/lift',
  severity: 'warning',
  finds: 'A part above the lifting limit of the shop that one person lifts alone.',
  why: 'Backs do not heal like bolts are renewed.',
  mend: 'Write `people: 2`, or `with:` a tool of `type: lift`; or `support:` it with a jack or crane first.',
  bad: {
    'shop.yaml': `${exampleLibrary['shop.yaml']}lift-limit: 25 kg\n`,
    'procedures/example.yaml': procedure(`parts: { box: { name: gearbox, mass: 52 kg } }
steps:
  - remove: box # <-
close-up:
  - fit: box
    people: 2
`),
  },
  good: {
    'shop.yaml': `${exampleLibrary['shop.yaml']}lift-limit: 25 kg\n`,
    'procedures/example.yaml': procedure(`parts: { box: { name: gearbox, mass: 52 kg } }
steps:
  - remove: box
    people: 2
close-up:
  - fit: box
    people: 2
`),
  },
  check(context, tell) {
    const limit = context.library.shop?.['lift-limit'];
    if (!limit) return;
    const tools = context.library.shop?.tools ?? {};
    for (const place of context.placesOf(lifting)) {
      const { step, objects, participant } = place.planned;
      if ((step.people ?? 1) > 1 || step.with?.some((tool) => tools[tool]?.type === 'lift')) continue;
      const { id } = participant.document;
      const where = isShipped(participant.document)
        ? `a preparation \`${id}\` of your own, which takes the place of this one`
        : 'this step';
      for (const object of objects) {
        const mass = participant.scope.parts.get(object)?.mass;
        if (mass && inUnit(mass, 'kg').gt(inUnit(limit, 'kg')) && !isSupported(place, object))
          tell({
            span: stepSpan(place.planned),
            message: `\`${object}\` weighs ${mass.text}, more than one person lifts in this shop (${limit.text}). Write in ${where}: \`people: 2\`, or \`with:\` what lifts it, a tool of \`type: lift\`; or \`support:\` it before.`,
          });
      }
    }
  },
};

/** Whether something carries a part at a place. */
function isSupported({ before }: PlanPlace, object: string): boolean {
  const last = before.findLast(({ verb, objects }) => (verb === 'support' || verb === 'unsupport') && objects.includes(object));
  return last?.verb === 'support';
}
