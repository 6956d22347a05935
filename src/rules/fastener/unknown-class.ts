import { didYouMeanOf } from '../../findings/suggest.js';
import { knownClasses, strengthOf } from '../../resolve/torque/strength.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/unknown-class',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A property class that no standard has.',
  why: 'The class decides what the bolt can hold.',
  mend: 'Write a class of ISO 898-1 or ISO 898-2, an SAE grade, or a stainless steel of ISO 3506 with its class.',
  bad: fastener('count: 2, thread: M8, class: "8.9", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  good: fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { group } of context.fasteners)
      for (const one of [group, ...(group.variants ?? [])])
        if (one.class && !strengthOf(one.class))
          tell({
            span: spanOf(one, 'class'),
            message: `There is no property class ${one.class}.${didYouMeanOf(one.class, knownClasses)}`,
          });
  },
};
