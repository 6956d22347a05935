import { hasTorque } from '../../resolve/torque/contact.js';
import { hasNoThread } from '../../resolve/torque/threads.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/threads-unsaid',
  severity: 'warning',
  looksAt: 'fasteners',
  finds: 'A torque without the state of the threads: dry, oiled, threadlocker.',
  why: 'The same torque on an oiled thread loads the bolt by tens of percent more.',
  mend: 'Write `threads:`.',
  bad: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: oiled, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { id, group, at } of context.fasteners)
      if (hasTorque(group.stages) && !group.threads && !hasNoThread(group))
        tell({ span: at(), message: `\`${id}\` has a torque but does not say whether the threads are dry or oiled. Write \`threads:\`.` });
  },
};
