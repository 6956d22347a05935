import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/no-sequence',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'Four or more fasteners on a gasket face without a tightening sequence.',
  why: 'Tightened in any order the face bends and leaks.',
  mend: 'Write `sequence:` star, line, centre-out, spiral, or the numbers.',
  bad: fastener(
    'count: 6, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, gasket: true, stages: [{ torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 6, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, gasket: true, sequence: star, stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners) {
      const count = Math.max(group.count ?? 0, ...(group.variants ?? []).map((variant) => variant.count ?? 0));
      if (group.gasket && count >= 4 && !group.sequence && !group.variants?.some((variant) => variant.sequence))
        tell({
          span: at(),
          message: `\`${id}\` clamps a gasket with ${count} fasteners and has no order. Write \`sequence: centre-out\`, star, line, spiral, or the numbers.`,
        });
    }
  },
};
