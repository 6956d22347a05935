import { isLost } from '../../library/written.js';
import { hasLost, spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'price/no-validity',
  severity: 'warning',
  finds: 'A shop that makes quotes and says neither how long they hold nor on what tax they stand.',
  why: 'A quote of last winter is presented in summer.',
  mend: 'Write `validity:` in shop.yaml, for example 30 d.',
  bad: {
    ...job(''),
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace('id: sample-shop', 'id: sample-shop # <-').replace('validity: 30 d\n', ''),
  },
  good: job(''),
  compare({ library }, tell) {
    const { shop, jobs } = library;
    if (shop && jobs.size > 0 && !shop.validity && !hasLost(shop) && !isLost(shop, 'validity'))
      tell({
        span: spanOf(shop, 'id'),
        message: 'Quotes of this shop do not say how long they hold. Write `validity:`, for example 30 d.',
      });
  },
};
