import { inUnit } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { type RuleContext, stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const raised = procedure('steps:\n  - raise: vehicle # <-\nclose-up:\n  - lower: vehicle\n');
const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';
const shop = exampleLibrary['shop.yaml'] ?? '';
const weighing = (mass: string) => ({
  'procedures/example.yaml': raised,
  'vehicles/sample-van.yaml': van.replace('name: Sample van\n', `name: Sample van\nmass: ${mass}\n`),
  'shop.yaml': `${shop}lift: 3500 kg\n`,
});

export const rule: Rule = {
  name: 'hazard/lift-capacity',
  severity: 'error',
  finds: 'A vehicle that weighs more than the lift of the shop may carry, and is raised as a whole.',
  why: 'A lift that gives way kills whoever stands under it.',
  mend: 'Raise it axle by axle on stands, or on a lift that carries it and stands in `lift:` of shop.yaml.',
  bad: weighing('4200 kg'),
  good: weighing('1500 kg'),
  check(context, tell) {
    const capacity = context.library.shop?.lift;
    if (!capacity) return;
    for (const place of context.placesOf('raise')) {
      const { scope } = place.planned.participant;
      const mass = place.planned.objects.includes('vehicle') ? scope.vehicle?.mass : undefined;
      if (!mass || inUnit(mass, 'kg').lte(inUnit(capacity, 'kg'))) continue;
      tell({
        span: whereAsked(context, place),
        about: scope.vehicle?.id ?? '',
        message: `\`${scope.vehicle?.id}\` weighs ${mass.text} empty, and the lift of this shop carries ${capacity.text}. Raise it axle by axle on stands: write a preparation of your own for that, in place of \`${place.planned.participant.document.id}\`.`,
      });
    }
  },
};

/** The step, where it stands in the document that is looked at; else where that asks for what raises the vehicle. */
function whereAsked({ works, jobs }: RuleContext, { planned }: PlanPlace) {
  const [work] = works;
  const [job] = jobs;
  if (work && planned.participant.document !== work && work.needs) return spanOf(work, 'needs', 'key');
  return job ? spanOf(job, 'work', 'key') : stepSpan(planned);
}
