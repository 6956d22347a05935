import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-cure',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'Threadlocker or sealant without the time that it needs before it may be loaded.',
  why: 'Filled or started too early it washes out.',
  mend: "Write `cure:` from the product's information.",
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: threadlocker, stages: [{ torque: 20 N·m }]'),
  good: fastener(
    'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: threadlocker, cure: 30 min, stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners)
      if ((group.threads === 'threadlocker' || group.threads === 'sealant') && !group.cure)
        tell({
          span: spanOf(group, 'threads'),
          message: `\`${id}\` is fitted with ${group.threads} and does not say how long it cures. Write \`cure:\`, for example 30 min.`,
        });
  },
};
