import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/no-outside',
  severity: 'warning',
  finds: 'A measurement with a limit that does not say what to do outside it.',
  why: 'The reading is bad, the part is in the hand, and the sheet is silent.',
  mend: 'Write `outside:`.',
  bad: procedure('measurements:\n  height: { name: height, limit: max 0.5 mm, with: dial gauge } # <-\nsteps:\n  - measure: height\n'),
  good: procedure(
    'measurements:\n  height: { name: height, limit: max 0.5 mm, with: dial gauge, outside: Renew the part. }\nsteps:\n  - measure: height\n',
  ),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works])
      for (const [id, one] of Object.entries(document.measurements ?? {}))
        if (one.limit && !one.outside && !isDamaged(one))
          tell({
            span: spanOf(document.measurements ?? document, id, 'key'),
            message: `\`${id}\` has a limit and does not say what to do outside it. Write \`outside:\`.`,
          });
  },
};
