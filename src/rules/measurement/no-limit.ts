import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/no-limit',
  severity: 'error',
  finds: 'A measurement that says what to do outside its limit and has no limit.',
  why: 'Nobody can tell from the reading whether it is outside.',
  mend: 'Write `limit:`, or `max-spread:` where only the difference counts; or delete `outside:`.',
  bad: procedure(`measurements:
  height: { name: height, unit: mm, with: dial gauge, outside: Renew it. } # <-
steps:
  - measure: height
`),
  good: procedure(`measurements:
  height: { name: height, limit: max 0.5 mm, with: dial gauge, outside: Renew it. }
steps:
  - measure: height
`),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works])
      for (const [id, one] of Object.entries(document.measurements ?? {}))
        if (one.outside && !one.limit && !one['max-spread'] && !isDamaged(one))
          tell({
            span: spanOf(one, 'outside', 'key'),
            message: `\`${id}\` says what to do outside its limit, and has none. Write \`limit:\`, or delete \`outside:\`.`,
          });
  },
};
