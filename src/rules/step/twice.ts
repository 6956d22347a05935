import { asList } from '../../library/scope.js';
import { type VerbName, verbOf } from '../../ledger/verbs.js';
import type { Step } from '../../schema/generated/types.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'step/twice',
  severity: 'warning',
  finds: 'A step that stands there twice, one directly behind the other.',
  why: 'It was copied, and the one that was to be there instead is missing; or a box is ticked for nothing.',
  mend: 'Delete one of the two, or write what the second was to be; what is meant to be done again says so in `says:`.',
  bad: procedure('steps:\n  - clean: flange\n  - clean: flange # <-\n'),
  good: procedure(
    'steps:\n  - clean: flange\n    says: First with the scraper.\n  - clean: flange\n    says: Then with brake cleaner, until the cloth stays white.\n',
  ),
  check(context, tell) {
    let before: (typeof context.steps)[number] | undefined;
    for (const one of context.steps) {
      if (before?.verb === one.verb && one.verb && isSame(one.verb, before.step, one.step))
        tell({
          span: spanOf(one.step, one.verb),
          message: 'This step is the same as the one before it. Delete one of the two, or write what this one was to be.',
          related: [{ span: spanOf(before.step, one.verb), message: 'the one before' }],
        });
      before = one;
    }
  },
};

/** Of these other rules tell: what is tightened, new or sent out twice. */
const told: ReadonlySet<VerbName> = new Set<VerbName>(['tighten', 'renew', 'send']);

/** Whether two steps say the same; what opens and closes a line, the ledger tells. */
function isSame(verb: VerbName, before: Step, step: Step): boolean {
  const { opens, closes } = verbOf(verb);
  if ((opens && verb !== 'loosen') || closes || told.has(verb)) return false;
  return asList(before[verb])[0] === asList(step[verb])[0] && JSON.stringify(before) === JSON.stringify(step);
}
