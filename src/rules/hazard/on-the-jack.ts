import type { Plan } from '../../plan/plan.js';
import { stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import { firstOfEach, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { takingApart } from '../steps.js';

const axle = (first: string, second: string): string =>
  procedure(`steps:
  - raise: rear-axle
${first}${second}close-up:
  - fit: cover
final:
  ground:
    - unsupport: rear-axle
    - lower: rear-axle
`);
const support = '  - support: rear-axle\n    says: On two stands.\n';
const remove = '  - remove: cover\n';

export const rule: Rule = {
  name: 'hazard/on-the-jack',
  severity: 'error',
  finds: 'Work begins on an axle that is raised, before the step that supports it.',
  why: 'A jack lifts and does not hold: a seal that lets go kills whoever is beneath.',
  mend: 'Put `support:` straight behind `raise:`.',
  bad: axle(remove.replace('\n', ' # <-\n'), support),
  good: axle(support, remove),
  check(context, tell) {
    const lifted = liftedIn(context.placesOf('raise'), context.placesOf('support'));
    if (lifted.size === 0) return;
    const found: { readonly place: PlanPlace; readonly kind: string }[] = [];
    for (const place of context.placesOf(takingApart))
      if (lifted.has(place.plan)) for (const kind of onTheJack(place)) found.push({ place, kind });
    for (const { place, kind } of firstOfEach(found)) {
      const support = place.after.find(({ verb, objects }) => verb === 'support' && objects.includes(kind));
      tell({
        span: stepSpan(place.planned),
        about: kind,
        message: `Work begins here while \`${kind}\` stands on what has raised it. Put ${support ? stepWords(support) : `\`support: ${kind}\``} between “raise: ${kind}” and this step.`,
      });
    }
  },
};

/** The plans in which the same thing is raised and supported: of most it is the vehicle and the gearbox. */
function liftedIn(raised: readonly PlanPlace[], supported: readonly PlanPlace[]): ReadonlySet<Plan> {
  if (raised.length === 0 || supported.length === 0) return new Set();
  return new Set(
    supported.flatMap(({ plan, planned }) =>
      raised.some((one) => one.plan === plan && one.planned.objects.some((object) => planned.objects.includes(object))) ? [plan] : [],
    ),
  );
}

/** What is raised at a place, and is supported only later or was before it went up. */
function onTheJack({ before, after }: PlanPlace): string[] {
  const raised = new Set<string>();
  const supportedFirst = new Set<string>();
  for (const { verb, objects } of before)
    for (const object of objects) {
      if (verb === 'raise') raised.add(object);
      if (verb === 'support' && !raised.delete(object)) supportedFirst.add(object);
      if (verb === 'lower') raised.delete(object);
    }
  return [...raised].filter(
    (object) => supportedFirst.has(object) || after.some(({ verb, objects }) => verb === 'support' && objects.includes(object)),
  );
}
