import { numberIn } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

/** km; no engine lasts so long (common practice, no source). */
const most = 2_000_000;

const shown: ReadonlySet<string> = new Set(['km', 'mi']);

export const rule: Rule = {
  name: 'job/odometer',
  severity: 'warning',
  looksAt: 'jobs',
  finds:
    'An odometer reading with three digits behind a point, `184.320 km`, of more than two million kilometres, or in another unit than km or mi.',
  why: 'Where a point divides thousands, this is a hundred and eighty-four thousand; here it is a hundred and eighty-four.',
  mend: 'Write the reading without a sign that divides it: `184320 km`.',
  bad: job('odometer: 184.320 km # <-\n'),
  good: job('odometer: 184320 km\n'),
  check({ jobs }, tell) {
    for (const one of jobs) {
      const written = one.odometer?.text ?? '';
      if (one.odometer && !shown.has(one.odometer.unit.symbol))
        tell({ span: spanOf(one, 'odometer'), message: `No odometer shows “${written}”. Write it in km or mi.` });
      else if (one.odometer && numberIn(one.odometer, 'km') > most)
        tell({
          span: spanOf(one, 'odometer'),
          message: `“${written}” is more than a vehicle runs. Is a digit too many?`,
        });
      if (/^\d{1,3}\.\d{3}\b/.test(written))
        tell({
          span: spanOf(one, 'odometer'),
          message: `“${written}” is read with a decimal point. If the point divides thousands, write ${written.replace('.', '')}.`,
        });
    }
  },
};
