import { fastener, job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/no-wrench',
  severity: 'error',
  finds: 'A torque for which the shop has no wrench: out of every certified range, or the certificate is out of date.',
  why: 'Below a fifth of its range, or without a certificate, a wrench shows a number and not the torque.',
  mend: 'Calibrate or buy the tool, and enter it in shop.yaml.',
  bad: job(
    '',
    fastener('count: 2, thread: M24, class: "10.9", drive: 36 AF, reuse: always, threads: dry, stages: [{ torque: 500 N·m }]').replace(
      /^.*?for: sample-van\n/s,
      '',
    ),
  ),
  good: job(
    '',
    fastener('count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]').replace(
      /^.*?for: sample-van\n/s,
      '',
    ),
  ),
};
