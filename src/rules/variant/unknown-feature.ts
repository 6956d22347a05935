import { didYouMean, oneOf } from '../../findings/suggest.js';
import { asList } from '../../library/scope.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'variant/unknown-feature',
  severity: 'error',
  finds: 'A condition over a feature that the vehicle does not have, or a value that the feature cannot take.',
  why: 'The condition never holds, and what hangs on it is never printed.',
  mend: 'Correct the name or the value.',
  bad: procedure('steps:\n  - inspect: leaks\n    when: { engine: A3 } # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    when: { engine: A1 }\n'),
  check(context, tell) {
    const outcomes = ['within', 'outside'];
    const wrong = (
      when: Record<string, string | string[]>,
      features: Record<string, { values: string[] }>,
      measurements: Iterable<string>,
    ) => {
      const measured = new Set(measurements);
      return Object.entries(when).flatMap(([name, wanted]) => {
        const values = features[name]?.values ?? (measured.has(name) ? outcomes : undefined);
        if (!values)
          return [
            {
              key: name,
              message: `There is no feature or measurement \`${name}\`.${didYouMean(name, [...Object.keys(features), ...measured])} Correct the name, or declare it under \`features:\` of the profile.`,
            },
          ];
        return asList(wanted)
          .filter((value) => !values.includes(value))
          .map((value) => ({
            key: name,
            about: value,
            message: `\`${name}\` is never \`${value}\`.${didYouMean(value, values)} It is ${oneOf(values)}.`,
          }));
      });
    };
    for (const { document, step } of context.steps)
      if (step.when)
        for (const scope of context.scopesOf(document))
          for (const one of wrong(step.when, scope.vehicle?.features ?? {}, scope.measurements.keys()))
            tell({ ...one, span: spanOf(step.when, one.key) });
    for (const { group, document } of context.fasteners)
      for (const vehicle of document.kind === 'vehicle' ? [document] : context.vehiclesFor(document))
        for (const variant of group.variants ?? [])
          for (const one of wrong(variant.when, vehicle.features ?? {}, [])) tell({ ...one, span: spanOf(variant.when, one.key) });
    for (const job of context.jobs) {
      const features = context.library.vehicles.get(job.vehicle)?.features;
      if (features)
        for (const [name, pinned] of Object.entries(job.features ?? {}))
          for (const one of wrong({ [name]: pinned.is }, features, [])) tell({ ...one, span: spanOf(pinned, 'is') });
    }
  },
};
