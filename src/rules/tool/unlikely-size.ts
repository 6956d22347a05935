import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

/** From the middle of the hand to the square, and from there to the fastener, in mm; common practice, no source. */
const likely = { length: [100, 2500], offset: [5, 500] } as const;

const shop = exampleLibrary['shop.yaml'] ?? '';

export const rule: Rule = {
  name: 'tool/unlikely-size',
  severity: 'warning',
  finds: 'A torque wrench or an adapter of a length that none has.',
  why: 'What to dial with an adapter is computed from both lengths.',
  mend: 'Measure it again, and look at the unit.',
  bad: { 'shop.yaml': shop.replace(/( {2}W-1: .*)length: 250 mm(.*)/, '$1length: 2500 cm$2 # <-') },
  good: { 'shop.yaml': shop },
  compare({ library }, tell) {
    for (const [id, tool] of Object.entries(library.shop?.tools ?? {}))
      for (const key of ['length', 'offset'] as const) {
        const size = tool[key];
        const [least, most] = likely[key];
        const mm = size && numberIn(size, 'mm');
        if (mm === undefined || (mm >= least && mm <= most)) continue;
        tell({
          span: spanOf(tool, key),
          message: `\`${id}\` cannot be ${size?.text} long. Measure it again; is a digit missing or too many?`,
        });
      }
  },
};
