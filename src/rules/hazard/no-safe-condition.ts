import { didYouMean } from '../../findings/suggest.js';
import { isLost, namesWritten } from '../../library/written.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

/** A spring is safe while it is compressed, fuel while nothing can spark: rules of their own ask the steps. */
const saidBySteps: ReadonlySet<string> = new Set(['spring', 'flammable']);

export const rule: Rule = {
  name: 'hazard/no-safe-condition',
  severity: 'error',
  finds: 'Something dangerous without the condition under which it may be opened.',
  why: 'A waiting time is never a default: only the maker knows it.',
  mend: 'Write `opened-after:` with waiting times or measurements of the profile.',
  bad: procedure(`parts:
  rail: { name: fuel rail, hazard: fuel-pressure } # <-
steps:
  - clean: bench
`),
  good: procedure(`parts: { rail: { name: fuel rail, hazard: fuel-pressure, opened-after: [ignition-off] } }
steps:
  - clean: bench
`),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      const fluids =
        document.kind === 'vehicle' ? [...Object.entries(document.fluids ?? {}), ...Object.entries(document.charges ?? {})] : [];
      for (const [id, one] of [...Object.entries(document.parts ?? {}), ...fluids]) {
        if (!one.hazard) continue;
        if (!one['opened-after']) {
          if (saidBySteps.has(one.hazard) || isDamaged(one)) continue;
          tell({
            span: spanOf(one, 'hazard'),
            message: `\`${id}\` is dangerous to open (${one.hazard}), and nothing says when it is safe. Write \`opened-after:\` with a waiting time or a measurement; there is no default.`,
          });
          continue;
        }
        for (const vehicle of document.kind === 'vehicle' ? [document] : context.vehiclesFor(document)) {
          if (isLost(vehicle, 'waits')) continue;
          const own = new Set([...namesWritten(vehicle.waits), ...namesWritten(vehicle.measurements)]);
          const unknown = one['opened-after'].findIndex((name) => !own.has(name) && !context.isShared('measurements', name));
          const name = one['opened-after'][unknown];
          if (name !== undefined)
            tell({
              span: spanOf(one['opened-after'], unknown),
              message: `\`${name}\` is neither a waiting time nor a measurement of \`${vehicle.id}\`.${didYouMean(name, own) || didYouMean(name, context.allShared('measurements'))} Correct the name, or declare it under \`waits:\`.`,
            });
        }
      }
    }
  },
};
