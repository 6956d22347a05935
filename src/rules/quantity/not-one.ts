import { notOne } from '../../quantity/extent.js';
import { parseQuantity } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

const tightened = (torque: string): string =>
  fastener(`count: 2, thread: M8x1.25x30, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: ${torque} }]`);

export const rule: Rule = {
  name: 'quantity/not-one',
  severity: 'error',
  finds: 'A limit, a range or a tolerance where one value belongs: `max 25 N·m` as a torque, `3..4 h` as a time that is billed.',
  why: 'No wrench is set to “at most”; what is computed from it would be a guess, and the sheet would show only a part of it.',
  mend: 'Write the value itself; a torque may have a tolerance or a range.',
  bad: tightened('max 25 N·m'),
  good: tightened('22..28 N·m'),
  leavesGap: 'figure',
  // What a step waits for may be a name too: the schema takes any text there. All else is told where it is read.
  check(context, tell) {
    for (const { step } of context.steps) {
      const written = step.wait === undefined ? null : parseQuantity(step.wait, 'time');
      const wrong = written?.ok ? notOne(written.quantity, 'least') : null;
      if (wrong !== null) tell({ span: spanOf(step, 'wait'), message: wrong });
    }
  },
};
