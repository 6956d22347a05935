import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/positions-differ',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A map with more or fewer positions than fasteners.',
  why: 'The order is drawn on bolts that are not there.',
  mend: 'Give one position for each fastener.',
  bad: fastener(
    'count: 3, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, positions: [[0, 0], [50, 0]], stages: [{ torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 3, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, positions: [[0, 0], [50, 0], [100, 0]], stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners)
      if (group.positions && group.count !== undefined && group.positions.length !== group.count)
        tell({
          span: spanOf(group, 'positions', 'key'),
          message: `\`${id}\` has ${group.count} fasteners and ${group.positions.length} positions. Give one position for each.`,
        });
  },
};
