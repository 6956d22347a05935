import { nominalOf } from '../../quantity/quantity.js';
import { convert } from '../../quantity/units.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/coarse-instrument',
  severity: 'error',
  finds: 'An instrument that resolves no finer than a quarter of the limit.',
  why: 'With marks of 0.1 mm nobody can tell 0.05 from 0.08 (common practice, no source).',
  mend: 'Name a finer instrument.',
  bad: procedure(
    'measurements:\n  height: { name: height, limit: max 0.05 mm, with: dial gauge, resolution: 0.05 mm, outside: Stop. } # <-\nsteps:\n  - measure: height\n',
  ),
  good: procedure(
    'measurements:\n  height: { name: height, limit: max 0.05 mm, with: dial gauge, resolution: 0.01 mm, outside: Stop. }\nsteps:\n  - measure: height\n',
  ),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      for (const one of Object.values(document.measurements ?? {})) {
        const { limit, resolution } = one;
        if (!limit || !resolution || limit.unit.dimension !== resolution.unit.dimension || limit.unit.dimension === 'temperature') continue;
        const span = limit.low && limit.high ? limit.high.minus(limit.low) : (limit.high ?? limit.low ?? nominalOf(limit)).abs();
        // Nothing at all, as of a pressure that is gone, is read at the first mark.
        if (span.isZero()) continue;
        if (convert(nominalOf(resolution), resolution.unit, limit.unit).times(4).gt(span))
          tell({
            span: spanOf(one, 'resolution'),
            message: `An instrument with ${resolution.text} cannot tell whether ${limit.text} is met: it must resolve a quarter of that, better a tenth. Name a finer one.`,
          });
      }
    }
  },
};
