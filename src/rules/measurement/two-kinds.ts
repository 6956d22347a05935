import type { Quantity } from '../../quantity/quantity.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { choicesMade } from '../choosing.js';
import type { Rule } from '../rule.js';

const measuring = (spread: string, mark = ''): string =>
  procedure(
    `measurements:\n  height:\n    name: height\n    limit: 0.5..0.8 mm\n    with: dial gauge\n    points: 4\n    takes: max\n    max-spread: ${spread}${mark}\n    outside: Stop.\nsteps:\n  - measure: height\n`,
  );

export const rule: Rule = {
  name: 'measurement/two-kinds',
  severity: 'error',
  finds: 'A measurement whose spread, resolution or table of choices is in a unit that measures something else than its limit.',
  why: 'An angle cannot be compared with a length; whoever reads it guesses which of the two was meant.',
  mend: 'Write both in units that measure the same.',
  bad: measuring('3 deg', ' # <-'),
  good: measuring('0.05 mm'),
  check(context, tell) {
    const compare = (limit: Quantity, other: Quantity | undefined, key: string, holder: object): void => {
      if (!other || other.unit.dimension === limit.unit.dimension) return;
      tell({
        span: spanOf(holder, key),
        message: `\`${key}: ${other.text}\` measures something else than the limit, ${limit.text}. Write it in ${limit.unit.symbol}.`,
      });
    };
    for (const document of [...context.vehicles, ...context.works])
      for (const one of Object.values(document.measurements ?? {})) {
        if (!one.limit || isDamaged(one)) continue;
        for (const key of ['max-spread', 'resolution'] as const) compare(one.limit, one[key], key, one);
      }
    for (const { choice, from } of choicesMade(context)) {
      const limit = from?.limit;
      if (!limit || isDamaged(choice.table)) continue;
      const isOther = ({ unit }: Quantity): boolean => unit.dimension !== limit.unit.dimension;
      // A whole table of another kind is told once, where it begins.
      const isAll = choice.table.every(({ over, to }) => isOther(over) && isOther(to));
      for (const row of isAll ? choice.table.slice(0, 1) : choice.table) {
        compare(limit, row.over, 'over', row);
        if (!isAll) compare(limit, row.to, 'to', row);
      }
    }
  },
};
