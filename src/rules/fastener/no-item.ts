import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-item',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'Fasteners that are new every time, with no catalogue item to order.',
  why: 'They are missing on the bench when the part is ready to go on.',
  mend: 'Write `item:`.',
  bad: fastener('count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, threads: dry, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8, class: "10.9", drive: 13 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { id, group } of context.fasteners)
      if (group.reuse === 'never' && !group.item && !group.variants?.some((variant) => variant.item))
        tell({
          span: spanOf(group, 'reuse'),
          message: `\`${id}\` is new every time, but names no \`item:\` to order. Write its name in the parts catalogue.`,
        });
  },
};
