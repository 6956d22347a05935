import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

/** kg: from a moped to the heaviest that comes on its own wheels (common practice, no source). */
const [least, most] = [40, 100_000];

/** kg: what is lighter, nobody says the mass of (common practice, no source). */
const leastOfPart = 0.2;

const weighing = (mass: string, mark = '') => ({
  'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
    'name: Sample van\n',
    `name: Sample van\nmass: ${mass}${mark}\n`,
  ),
});

export const rule: Rule = {
  name: 'hazard/unlikely-mass',
  severity: 'error',
  looksAt: 'vehicles',
  finds: 'A vehicle that weighs what none weighs, or a part that is heavier than its vehicle or lighter than what anybody weighs.',
  why: 'Whether the lift carries it, and whether one person may lift it, is judged by that figure.',
  mend: 'Look it up again, with its unit.',
  bad: weighing('2300 g', ' # <-'),
  good: weighing('2300 kg'),
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      const mass = vehicle.mass && numberIn(vehicle.mass, 'kg');
      for (const [id, part] of Object.entries(vehicle.parts ?? {})) {
        const its = part.mass && numberIn(part.mass, 'kg');
        if (its !== undefined && (its > Math.min(mass ?? most, most) || its < leastOfPart))
          tell({
            span: spanOf(part, 'mass'),
            ...(its < leastOfPart && { severity: 'warning' as const }),
            message: `\`${id}\` weighs ${part.mass?.text}${its < leastOfPart ? '' : ', more than the whole vehicle'}. Is the unit right?`,
          });
      }
      if (mass === undefined || (mass >= least && mass <= most)) continue;
      const written = vehicle.mass?.text ?? '';
      const [all, thousands = '', rest = ''] = /^(\d)\.(\d{3}\b.*)$/.exec(written) ?? [];
      tell({
        span: spanOf(vehicle, 'mass'),
        message: `No vehicle weighs ${written}. ${all ? `If the point divides thousands, write ${thousands}${rest}.` : 'Is the unit right, or a digit too many?'}`,
      });
    }
  },
};
