import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const shims = (count: string, mark = ''): Readonly<Record<string, string>> => ({
  ...job(
    'expect: { shim: shim-thin }\n',
    `measurements: { gaps: { name: gaps of the bearings, limit: 0.1..0.3 mm, with: feeler gauges, points: 4, takes: each, outside: Stop. } }
choices:
  shim:
    name: shim
    from: gaps
    item: shim
    table:
      - { over: 0.1 mm, to: 0.2 mm, gives: shim-thin }
      - { over: 0.2 mm, to: 0.3 mm, gives: shim-thick }
parts:
  shims: { name: shims, item: shim, seal: used-again${count} }${mark}
labour: { all: { time: 0.2 h } }
steps:
  - remove: shims
  - measure: gaps
  - choose: shim
close-up:
  - fit: shims
    new: true
`,
  ),
  'parts/sample.yaml': (exampleLibrary['parts/sample.yaml'] ?? '')
    .replace('items:\n', 'items:\n  shim: { name: shim }\n  shim-thin: { name: thin shim }\n  shim-thick: { name: thick shim }\n')
    .replace(
      'offers:\n',
      'offers:\n  - { number: "P-8", contains: { shim-thin: 1 }, price: 2.00 }\n  - { number: "P-9", contains: { shim-thick: 1 }, price: 2.00 }\n',
    ),
});

export const rule: Rule = {
  name: 'parts/count-chosen',
  severity: 'error',
  finds: 'A part of which each reading chooses an item of its own, and of which there are not as many, or as many for each.',
  why: 'Of shims for sixteen valves one would be ordered.',
  mend: 'Write `count:` at the part: as many as there are readings, or as many times that as go to each.',
  bad: shims(', count: 6', ' # <-'),
  good: shims(', count: 4'),
};
