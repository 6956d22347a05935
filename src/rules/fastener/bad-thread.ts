import { isOtherThread } from '../../resolve/torque/other-threads.js';
import { parseThread, threadOf } from '../../resolve/torque/threads.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/bad-thread',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A thread that does not exist: an unknown size, or a pitch that cannot be.',
  why: 'The bolt that is ordered by it does not fit.',
  mend: 'Write the thread as it is marked, for example M10x1.25.',
  bad: fastener('count: 2, thread: M8x5, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8x1, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { group } of context.fasteners)
      for (const one of [group, ...(group.variants ?? [])]) {
        const thread = threadOf(one);
        if (thread && !parseThread(thread) && !isOtherThread(thread))
          tell({
            span: spanOf(one, 'thread'),
            message: /^M/.test(thread)
              ? `There is no thread ${thread}: the pitch must be given where it is not the usual coarse one, and cannot be that coarse. Write, for example, M10x1.25.`
              : `There is no thread ${thread}. Write it as it is marked: 7/16-14, G1/4, 1/8-27 NPT, ST4.8x16.`,
          });
      }
  },
};
