import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/lengths-without-map',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'Bolts of several lengths in one group without a map of where each goes, or not one length a bolt.',
  why: 'The long bolt in the short hole breaks the casting.',
  mend: 'Write `positions:` and one length for each.',
  bad: fastener(
    'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, lengths: [25 mm, 40 mm], stages: [{ torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, lengths: [25 mm, 40 mm], positions: [[0, 0], [50, 0]], stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      if (!group.lengths) continue;
      const positions = group.positions?.length ?? 0;
      if (positions !== group.lengths.length)
        tell({
          span: spanOf(group, 'lengths'),
          message: `\`${id}\` has ${group.lengths.length} lengths and ${positions} positions. Write a position for each length, so that the map shows where the long ones go.`,
        });
    }
  },
};
