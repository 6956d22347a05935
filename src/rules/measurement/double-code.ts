import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const work = (second: string): string =>
  `measurements:\n  a: { code: M-01, name: gap above, unit: mm }\n  b: { code: ${second}, name: gap below, unit: mm }${second === 'M-01' ? ' # <-' : ''}\nsteps:\n  - measure: [a, b]\n`;

export const rule: Rule = {
  name: 'measurement/double-code',
  severity: 'error',
  finds: 'Two measurements, or two choices, of one job with the same code.',
  why: 'Two readings go into one blank of the record.',
  mend: 'Give one of them another code, or leave the code out.',
  bad: job('', work('M-01')),
  good: job('', work('M-02')),
};
