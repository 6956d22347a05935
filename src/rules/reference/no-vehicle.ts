import { isShipped } from '../../library/library.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/no-vehicle',
  severity: 'warning',
  finds: 'A procedure that no vehicle is known for: it has no `for:`, and no job asks for it.',
  why: 'What is opened and closed is counted; torques, covers, fluids and hazards stand in the profile, and are not checked.',
  mend: 'Write `for:` with the profile of a vehicle that it fits, or a job that asks for it.',
  bad: 'kind: procedure # <-\nid: example\nname: Example work\nsteps:\n  - inspect: leaks\n',
  good: procedure('steps:\n  - inspect: leaks\n'),
  check(context, tell) {
    for (const work of context.works)
      if (work.kind === 'procedure' && work.for === undefined && !isShipped(work) && context.vehiclesFor(work).length === 0)
        tell({
          span: spanOf(work),
          message:
            'This procedure is checked without a vehicle: it has no `for:`, and no job asks for it. Its torques, covers, fluids and hazards are not looked up. Write `for:` with the profile of a vehicle that it fits.',
        });
  },
};
