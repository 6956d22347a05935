import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/needs-quotes',
  severity: 'error',
  finds: 'A code, part number or revision without quotes that YAML reads as a number.',
  why: '00412 becomes 412, 12E4 becomes 120000, 1.10 becomes 1.1: another part arrives.',
  mend: 'Put it in quotes.',
  bad: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: 00412, contains: { seal: 1 }, price: 2.00 } # <-\n',
  good: 'kind: parts\nid: more\nitems: { seal: { name: seal } }\noffers:\n  - { number: "00412", contains: { seal: 1 }, price: 2.00 }\n',
};
