import { inUnit } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';
const shop = exampleLibrary['shop.yaml'] ?? '';
const weighing = (mass: string, mark = '') => ({
  'procedures/example.yaml': procedure('steps:\n  - raise: vehicle\nclose-up:\n  - lower: vehicle\n'),
  'vehicles/sample-van.yaml': van.replace('name: Sample van\n', `name: Sample van\nmass: ${mass}${mark}\n`),
  'shop.yaml': `${shop}lift: 3500 kg\n`,
});

export const rule: Rule = {
  name: 'hazard/lift-capacity',
  severity: 'error',
  finds: 'A vehicle that weighs more than the lift of the shop may carry, and is raised as a whole.',
  why: 'A lift that gives way kills whoever stands under it.',
  mend: 'Raise it axle by axle on stands, or on a lift that carries it and stands in `lift:` of shop.yaml.',
  bad: weighing('4200 kg', ' # <-'),
  good: weighing('1500 kg'),
  check(context, tell) {
    const capacity = context.library.shop?.lift;
    if (!capacity) return;
    for (const { planned } of context.placesOf('raise')) {
      const { vehicle } = planned.participant.scope;
      if (!vehicle?.mass || !planned.objects.includes('vehicle') || inUnit(vehicle.mass, 'kg').lte(inUnit(capacity, 'kg'))) continue;
      // However many procedures raise it: the two weights are what does not fit.
      tell({
        span: spanOf(vehicle, 'mass'),
        message: `\`${vehicle.id}\` weighs ${vehicle.mass.text} empty, and the lift of this shop carries ${capacity.text}. Raise it axle by axle on stands: write a preparation of your own for that, and need it in place of \`${planned.participant.document.id}\`.`,
        related: [{ span: stepSpan(planned), message: 'raised as a whole here' }],
      });
    }
  },
};
