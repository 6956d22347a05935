import { didYouMean, thereAre } from '../../findings/suggest.js';
import { renameFix } from '../../findings/fixes.js';
import { workDocument } from '../../library/library.js';
import { wantedOf } from '../../plan/needs.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-need',
  severity: 'error',
  leavesGap: 'plan',
  finds: 'A preparation or procedure that is needed and does not exist.',
  why: 'What is needed and missing is not done.',
  mend: 'Correct the name, or write the preparation.',
  bad: procedure('needs: [vehicle-rised] # <-\nsteps:\n  - inspect: leaks\n'),
  good: procedure('needs: [engine-warm]\nsteps:\n  - inspect: leaks\n').replace('needs: [engine-warm]\n', ''),
  check(context, tell) {
    for (const work of context.works) {
      for (const [index, need] of (work.needs ?? []).entries()) {
        const { id } = wantedOf(need, context.library);
        if (workDocument(context.library, id) || context.isBroken(id)) continue;
        const known = context.allShared('works');
        const span = typeof need === 'string' ? spanOf(work.needs ?? work, index) : spanOf(need, id, 'key');
        tell({
          span,
          fix: renameFix(span, id, known),
          message: `There is no preparation \`${id}\`.${didYouMean(id, known)} ${thereAre(context.library.preparations.keys())}`,
        });
      }
    }
  },
};
