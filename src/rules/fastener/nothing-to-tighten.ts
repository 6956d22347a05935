import type { VerbName } from '../../ledger/verbs.js';
import { called } from '../../ledger/called.js';
import { isDamaged } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const bracket = (fasteners: string, mark = ''): string =>
  procedure(
    `parts: { bracket: { name: bracket, seal: used-again${fasteners} } }\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - tighten: bracket${mark}\n`,
  );

const tightening: readonly VerbName[] = ['tighten', 're-torque'];

export const rule: Rule = {
  name: 'fastener/nothing-to-tighten',
  severity: 'warning',
  finds: 'A part is tightened and has no fasteners in the profile.',
  why: 'The sheet prints no torque and no box for a bolt, and nothing is owed when the step is forgotten.',
  mend: 'Write `fasteners:` at the part; a group that has no torque says `method: hand`, `clip` or `snap`.',
  bad: bracket('', ' # <-'),
  good: bracket(', fasteners: pump-bolts'),
  check(context, tell) {
    for (const { plan, planned } of context.placesOf(tightening)) {
      const { parts, fasteners } = planned.participant.scope;
      for (const object of planned.objects) {
        const part = parts.get(object);
        if (part && !fasteners.has(object) && part.fasteners === undefined && !isDamaged(part))
          tell({
            span: spanOfObject(plan, planned, object),
            about: object,
            message: `${called(planned, object)} is tightened here and has no \`fasteners:\` in the profile: no torque is printed, and nobody misses it. Write them at the part; where there is no torque, with \`method: hand\`.`,
          });
      }
    }
  },
};
