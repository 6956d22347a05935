import { hasTorque } from '../../resolve/torque/contact.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-thread',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A tightened group without its thread.',
  why: 'One head size fits two threads; without the thread nobody notices a value meant for another bolt.',
  mend: 'Write `thread:`, with pitch and length; `thread: none` for a hose clamp or a bayonet ring.',
  bad: fastener('count: 2, drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8x1.25x30, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners) {
      const everywhere = (group.variants ?? []).length > 0 && group.variants?.every((variant) => variant.thread !== undefined);
      if (hasTorque(group.stages) && !group.thread && !everywhere)
        tell({
          span: at(),
          message: `\`${id}\` has a torque but no thread, so nobody can notice a value meant for another bolt. Write \`thread:\`, for example M8x1.25x30, or \`thread: none\` for what has none, as a hose clamp or a bayonet ring.`,
        });
    }
  },
};
