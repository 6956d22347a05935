import type { VerbName } from '../../ledger/verbs.js';
import { inUnit } from '../../quantity/quantity.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const lifting: readonly VerbName[] = ['remove', 'fit'];

export const rule: Rule = {
  name: 'hazard/lift',
  severity: 'warning',
  finds: 'A part above the lifting limit of the shop that one person lifts alone.',
  why: 'Backs do not heal like bolts are renewed.',
  mend: 'Write `people: 2`, or `support:` it with a jack or crane first.',
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
    for (const { planned } of context.placesOf(lifting)) {
      if ((planned.step.people ?? 1) > 1) continue;
      for (const object of planned.objects) {
        const mass = planned.participant.scope.parts.get(object)?.mass;
        if (mass && inUnit(mass, 'kg').gt(inUnit(limit, 'kg')))
          tell({
            span: stepSpan(planned),
            message: `\`${object}\` weighs ${mass.text}, more than one person lifts in this shop (${limit.text}). Write \`people: 2\` on this step.`,
          });
      }
    }
  },
};
