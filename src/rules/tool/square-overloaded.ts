import { exampleLibrary } from '../example-library.js';
import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

const shopWith = (square: string): string =>
  (exampleLibrary['shop.yaml'] ?? '').replace('range: 20..200 N·m,', `range: 20..200 N·m, square: ${square},`);

export const rule: Rule = {
  name: 'tool/square-overloaded',
  severity: 'warning',
  finds: 'A setting above what the square of the wrench carries.',
  why: 'The square shears off under the hand.',
  mend: 'Take a wrench with a larger square.',
  bad: {
    ...job(
      '',
      fastener('count: 2, thread: M14, class: "8.8", drive: 21 AF, reuse: always, threads: dry, stages: [{ torque: 100 N·m }]').replace(
        /^.*?for: sample-van\n/s,
        '',
      ),
    ),
    'shop.yaml': shopWith('1/4 in'),
  },
  good: {
    ...job(
      '',
      fastener('count: 2, thread: M14, class: "8.8", drive: 21 AF, reuse: always, threads: dry, stages: [{ torque: 100 N·m }]').replace(
        /^.*?for: sample-van\n/s,
        '',
      ),
    ),
    'shop.yaml': shopWith('1/2 in'),
  },
};
