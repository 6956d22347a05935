import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-count',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A fastener group that does not say how many there are, on every variant.',
  why: 'Without a number there are no boxes to tick and nothing to order.',
  mend: 'Write `count:`.',
  bad: fastener('thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners) {
      const everywhere = (group.variants ?? []).length > 0 && group.variants?.every((variant) => variant.count !== undefined);
      if (group.count === undefined && !everywhere)
        tell({ span: at(), message: `\`${id}\` does not say how many there are. Write \`count:\`.` });
    }
  },
};
