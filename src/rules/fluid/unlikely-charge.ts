import { numberIn } from '../../quantity/quantity.js';
import { isLikelyCharge } from '../../resolve/fluids/charge.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

/** L of oil that a part of the circuit takes when it is new (common practice, no source). */
const mostOil = 2;

const cooled = (charge: string, mark = ''): Readonly<Record<string, string>> => ({
  'vehicles/other-van.yaml': `kind: vehicle\nid: other-van\nname: Other van\ncharges:\n  refrigerant: { name: refrigerant, spec: R-1, item: coolant-ready, charge: ${charge} }${mark}\n`,
});

export const rule: Rule = {
  name: 'fluid/unlikely-charge',
  severity: 'error',
  looksAt: 'vehicles',
  finds: 'A charge by mass, or the oil of one of its parts, that no air conditioning takes; or more recovered than can have been in it.',
  why: 'Grams and kilograms are mixed up, and the station fills until something bursts.',
  mend: 'Look it up again on the plate of the vehicle, with its unit.',
  bad: cooled('540 kg', ' # <-'),
  good: cooled('540 g'),
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      for (const charge of Object.values(vehicle.charges ?? {})) {
        const mass = numberIn(charge.charge, 'kg');
        if (isLikelyCharge(mass)) continue;
        const meant = charge.charge.unit.symbol === 'kg' && isLikelyCharge(mass / 1000) ? charge.charge.text.replace('kg', 'g') : null;
        tell({
          span: spanOf(charge, 'charge'),
          message: `No air conditioning of a vehicle takes ${charge.charge.text}. ${meant ? `Did you mean ${meant}?` : 'Is the unit right?'}`,
        });
      }
      for (const part of Object.values(vehicle.parts ?? {}))
        if (part.oil && numberIn(part.oil, 'L') > mostOil)
          tell({ span: spanOf(part, 'oil'), message: `No part of an air conditioning takes ${part.oil.text} of oil. Is the unit right?` });
    }
  },
};
