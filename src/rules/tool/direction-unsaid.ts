import { exampleLibrary } from '../example-library.js';
import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

const leftHand = job(
  '',
  fastener(
    'count: 2, thread: M14, hand: left, class: "8.8", drive: 21 AF, reuse: always, threads: dry, stages: [{ torque: 100 N·m }]',
  ).replace(/^.*?for: sample-van\n/s, ''),
);

export const rule: Rule = {
  name: 'tool/direction-unsaid',
  severity: 'warning',
  finds: 'A left-hand thread that is tightened with a wrench of which nobody says that it measures anticlockwise.',
  why: 'A wrench that is turned against its direction never clicks, and the thread is overtightened.',
  mend: 'Write `direction: both` at the wrench in shop.yaml, if its certificate says so.',
  bad: leftHand,
  good: {
    ...leftHand,
    'procedures/example.yaml': (leftHand['procedures/example.yaml'] ?? '').replace(' # <-', ''),
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('range: 20..200 N·m,', 'range: 20..200 N·m, direction: both,'),
  },
};
