import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/unreadable',
  severity: 'error',
  finds: 'A file that cannot be read, or is not UTF-8 text.',
  why: 'A number whose sign was lost is worse than none.',
  mend: 'Save the file as UTF-8, and see that it may be read.',
  bad: { 'parts/more.yaml': 'kind: parts\nid: more\nitems: {}\noffers: [] # 20 N\ufffdm # <-\n' },
  good: { 'parts/more.yaml': 'kind: parts\nid: more\nitems: {}\noffers: [] # 20 N·m\n' },
};
