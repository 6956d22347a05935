import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/no-counter-hold',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'Fasteners of a part that turns with them, without a counter-hold.',
  why: 'Held by the belt or the pin, the pin shears.',
  mend: 'Name the tool in `counter-hold:`.',
  bad: fastener(
    'count: 1, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, rotating: true, stages: [{ torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 1, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, rotating: true, counter-hold: gauge, stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners)
      if (group.rotating && !group['counter-hold'])
        tell({
          span: at(),
          message: `\`${id}\` holds a part that turns with it. Name what holds it: \`counter-hold:\`, for loosening and for tightening.`,
        });
  },
};
