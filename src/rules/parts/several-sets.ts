import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const catalogue = (exampleLibrary['parts/sample.yaml'] ?? '')
  .replace('items:\n', 'items:\n  pad-set: { name: set of pads }\n')
  .replace('offers:\n', 'offers:\n  - { number: "P-9", contains: { pad-set: 1 }, price: 40.00 }\n');
const pads = (each: string): Readonly<Record<string, string>> => ({
  ...job(
    '',
    `parts:\n  pads: { name: pads${each}, item: pad-set, seal: used-again }${each && ' # <-'}\nsteps:\n  - remove: pads\nclose-up:\n  - fit: pads\n    new: true\n`,
  ),
  'parts/sample.yaml': catalogue,
});

export const rule: Rule = {
  name: 'parts/several-sets',
  severity: 'warning',
  finds: 'A set, a kit or a pair that is ordered several times, as a part counts pieces or two parts name it.',
  why: 'The customer pays two sets of pads, and one stays on the shelf.',
  mend: 'Name the item at one part alone, without `count:`; where several sets are right, leave it.',
  bad: pads(', count: 2'),
  good: pads(''),
};
