import { didYouMean, oneOf } from '../../findings/suggest.js';
import { isPermutation, knownSequences } from '../../resolve/torque/sequence.js';
import { valueMeantBy } from '../../schema/meant.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/bad-sequence',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A tightening sequence that misses a fastener, names one twice, or is unknown.',
  why: 'The one that is missing in the order is missed at the vehicle.',
  mend: 'Name each number from 1 to the count once.',
  bad: fastener(
    'count: 3, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, sequence: [1, 3, 3], stages: [{ torque: 20 N·m }]',
  ),
  good: fastener(
    'count: 3, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, sequence: [1, 3, 2], stages: [{ torque: 20 N·m }]',
  ),
  check(context, tell) {
    for (const { id, group } of context.fasteners) {
      const { sequence, count } = group;
      if (Array.isArray(sequence) && count !== undefined && !isPermutation(sequence, count))
        tell({ span: spanOf(group, 'sequence'), message: `The order of \`${id}\` must name each number from 1 to ${count} once.` });
      if (typeof sequence === 'string' && !knownSequences.some((name) => name === sequence)) {
        const [meant] = valueMeantBy(sequence, knownSequences);
        const write = meant ? ` Write \`${meant}\`.` : didYouMean(sequence, knownSequences);
        tell({
          span: spanOf(group, 'sequence'),
          message: `\`${sequence}\` is not a tightening sequence.${write} There are ${oneOf(knownSequences)}, or the numbers in order.`,
        });
      }
    }
  },
};
