import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'quantity/clock-time',
  severity: 'error',
  finds: 'A duration written like a time of day.',
  why: '1:30 is ninety minutes, ninety seconds, or half past one.',
  mend: 'Write minutes or hours.',
  bad: procedure('steps:\n  - inspect: leaks\n    unattended: 1:30 # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    unattended: 90 min\n'),
};
