import { readingsApart } from '../../job/readings.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { choicesMade } from '../choosing.js';
import type { Rule } from '../rule.js';

const choosing = (gap: string, mark = ''): string =>
  procedure(`measurements:
  shim-wanted: { name: shim that is wanted, limit: 2.00..3.00 mm, with: micrometer, points: 4, takes: each, outside: Stop. }
  gap: { name: clearance, ${gap}, points: 4, takes: each, with: feeler gauges }
choices:
  shim:
    name: shim
    from: shim-wanted
    stays: gap${mark}
    item: hose
    table:
      - { over: 2.00 mm, to: 3.00 mm, gives: hose }
steps:
  - measure: [shim-wanted, gap]
  - choose: shim
`);

export const rule: Rule = {
  name: 'measurement/stays-unjudged',
  severity: 'error',
  finds: 'A choice that leaves in what a measurement finds inside its limit, where that has no limit, or another number of readings.',
  why: 'Nobody can tell which of the parts stay in.',
  mend: 'Give the measurement its `limit:`, and as many `points:` as that which chooses.',
  bad: choosing('unit: mm', ' # <-'),
  good: choosing('limit: 0.18..0.22 mm, outside: Another shim.'),
  check(context, tell) {
    for (const { choice, from, measurements } of choicesMade(context)) {
      const stays = choice.stays === undefined ? undefined : measurements.get(choice.stays);
      if (!stays || !from) continue;
      const span = spanOf(choice, 'stays');
      if (!stays.limit)
        tell({ span, message: `\`${choice.stays}\` has no limit: nothing says where what is in stays. Write its \`limit:\`.` });
      else if (readingsApart(stays, from))
        tell({
          span,
          message: `\`${choice.stays}\` has ${stays.points ?? 1} readings, and \`${choice.from}\` has ${from.points ?? 1}: nobody knows which stay in. Give both the same \`points:\`.`,
        });
    }
  },
};
