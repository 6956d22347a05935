import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/no-instrument',
  severity: 'warning',
  finds: 'A measurement with a limit that names no instrument.',
  why: '0.05 mm with a ruler is a guess.',
  mend: 'Write `with:` and its `resolution:`.',
  bad: procedure(`measurements:
  height: { name: height, limit: max 0.5 mm, outside: Renew it. } # <-
steps:
  - measure: height
`),
  good: procedure(`measurements:
  height: { name: height, limit: max 0.5 mm, with: feeler gauge, outside: Renew it. }
steps:
  - measure: height
`),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      const all = document.measurements ?? {};
      for (const [id, one] of Object.entries(all))
        if (one.limit && !one.with && !one.calculated && !isDamaged(one))
          tell({
            span: spanOf(all, id, 'key'),
            message: `\`${id}\` has a limit and names no instrument. Write \`with:\`, and \`resolution:\` where it matters.`,
          });
    }
  },
};
