import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

/** Per cent; the highest standard rate of a value added tax is 27 (from memory). */
const most = 30;

const shop = exampleLibrary['shop.yaml'] ?? '';

export const rule: Rule = {
  name: 'price/unlikely-tax',
  severity: 'warning',
  finds: 'A tax of more than 30 %.',
  why: 'A digit too many is on every quote from then on.',
  mend: 'Look the rate up again.',
  bad: { 'shop.yaml': shop.replace('taxes: { standard: 20 % }', 'taxes: { standard: 200 % } # <-') },
  good: { 'shop.yaml': shop },
  compare({ library }, tell) {
    const { taxes } = library.shop ?? {};
    for (const [id, rate] of Object.entries(taxes ?? {}))
      if (taxes && numberIn(rate, '%') > most)
        tell({
          span: spanOf(taxes, id),
          message: `A tax of ${rate.text} is known nowhere. Is a digit too many?`,
        });
  },
};
