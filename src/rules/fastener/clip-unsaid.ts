import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/clip-unsaid',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A clip or clamp without what decides whether it is used again.',
  why: 'A spring clamp from last time holds half.',
  mend: 'Write `reuse:`.',
  bad: fastener('count: 1, method: clip'),
  good: fastener('count: 1, method: clip, reuse: always'),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners)
      if (group.method === 'clip' && !group.reuse)
        tell({
          span: at(),
          message: `\`${id}\` is a clip or clamp and does not say whether it is used again. Write \`reuse: always\` or \`reuse: never\`.`,
        });
  },
};
