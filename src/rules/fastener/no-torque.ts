import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-torque',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A fastener group with neither stages nor a method (hand, clip, snap).',
  why: 'A bolt without a value is tightened by feel.',
  mend: 'Write `stages:` with the torque, or `method:` where there is none.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry'),
  good: fastener('count: 2, thread: M8, drive: 13 AF, reuse: always, method: hand'),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners) {
      const everywhere = (group.variants ?? []).length > 0 && group.variants?.every((variant) => variant.stages !== undefined);
      if (!group.stages && !group.method && !everywhere)
        tell({
          span: at(),
          message: `\`${id}\` has no torque. Write \`stages:\`, for example \`[{ torque: 25 N·m }]\`, or \`method: hand\` where the maker gives none.`,
        });
    }
  },
};
