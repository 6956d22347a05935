import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const waiting = (more: string, mark = ''): Readonly<Record<string, string>> =>
  job('', `labour: { all: { time: 0.2 h${more} } }\nsteps:\n  - wait: 2 h${mark}\n  - inspect: leaks\n`);

export const rule: Rule = {
  name: 'labour/waits-unsaid',
  severity: 'warning',
  finds: 'Steps that wait, or run by themselves, for more than half an hour longer than the labour of their document says.',
  why: 'The plan of the day has no room for it, and the vehicle is promised too early.',
  mend: 'Write `unattended:` at the operation, with the time that passes by itself.',
  bad: waiting('', ' # <-'),
  good: waiting(', unattended: 2 h'),
};
