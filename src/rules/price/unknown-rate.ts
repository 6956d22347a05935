import { didYouMean } from '../../findings/suggest.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'price/unknown-rate',
  severity: 'error',
  finds: 'A labour grade that the shop has no rate for.',
  why: 'The hours would be free.',
  mend: 'Add the rate, or correct the grade.',
  bad: job('', 'labour: { look: { time: 0.2 h, grade: master } } # <-\nsteps:\n  - inspect: leaks\n'),
  good: job('', 'labour: { look: { time: 0.2 h, grade: mechanic } }\nsteps:\n  - inspect: leaks\n'),
  check({ library, works }, tell) {
    const { rates } = library.shop ?? {};
    if (!rates || isDamaged(rates)) return;
    for (const work of works)
      for (const operation of Object.values(work.labour ?? {})) {
        const { grade } = operation;
        if (grade !== undefined && !Object.hasOwn(rates, grade)) tell({ span: spanOf(operation, 'grade'), message: noRate(grade, rates) });
      }
  },
  compare({ library: { shop } }, tell) {
    const { grade, rates } = shop ?? {};
    if (shop && rates && !isDamaged(rates) && grade !== undefined && !Object.hasOwn(rates, grade))
      tell({ span: spanOf(shop, 'grade'), message: noRate(grade, rates) });
  },
};

const noRate = (grade: string, rates: object): string =>
  `The shop has no labour rate for the grade \`${grade}\`.${didYouMean(grade, Object.keys(rates))} Add it under \`rates:\` of shop.yaml, or correct the name.`;
