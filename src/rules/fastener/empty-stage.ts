import { oneOf } from '../../findings/suggest.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/empty-stage',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A stage with no action, or with two.',
  why: 'Torque and angle in one box cannot be ticked one by one.',
  mend: 'Write one of by-hand, torque, angle, back-off, wait, repeat, window, ladder a stage.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m, wait: 5 min }]'),
  good: fastener(
    'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }, { wait: 5 min }]',
  ),
  check(context, tell) {
    const kinds = ['by-hand', 'torque', 'angle', 'back-off', 'wait', 'repeat', 'window', 'ladder'] as const;
    for (const { group } of context.fasteners) {
      for (const stage of group.stages ?? []) {
        const found = kinds.filter((kind) => stage[kind] !== undefined);
        if (found.length !== 1)
          tell({
            span: spanOf(stage),
            message:
              found.length === 0
                ? `This stage says nothing to do. Write one of ${oneOf(kinds)}.`
                : `This stage has ${found.join(' and ')} at once. Make two stages of it, in their order.`,
          });
      }
    }
  },
};
