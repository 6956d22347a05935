import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/no-unit',
  severity: 'warning',
  finds: 'A measurement with neither a limit nor a unit.',
  why: 'A bare number in a blank can be read as anything, a year later by anybody.',
  mend: 'Write `unit:`.',
  bad: procedure(`measurements:
  drag: { name: drag of the pinion, with: dial torque wrench } # <-
steps:
  - measure: drag
`),
  good: procedure(`measurements:
  drag: { name: drag of the pinion, unit: N·m, with: dial torque wrench }
steps:
  - measure: drag
`),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      const all = document.measurements ?? {};
      for (const [id, one] of Object.entries(all))
        if (!one.unit && !one.limit && !one.outside && !isDamaged(one))
          tell({
            span: spanOf(all, id, 'key'),
            message: `The blank for \`${id}\` has no unit. Write \`unit:\` (mm, °C, N·m), or the \`limit:\` that the reading must meet.`,
          });
    }
  },
};
