import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const drained = job('', 'steps:\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n');
const shop = exampleLibrary['shop.yaml'] ?? '';

export const rule: Rule = {
  name: 'price/waste-unit',
  severity: 'error',
  finds: 'A waste class that is charged per piece or kilogram, for something that is counted in litres; or the other way round.',
  why: 'The fee on the quote is for another amount.',
  mend: 'Write `per:` as what becomes waste is counted: fluids in L or another unit of volume, parts by the piece.',
  bad: { ...drained, 'shop.yaml': shop.replace(/( {2}antifreeze: .*)per: L \}/, '$1per: piece } # <-') },
  good: { ...drained, 'shop.yaml': shop },
};
