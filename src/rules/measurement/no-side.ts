import type { Quantity } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const height = (limit: string, mark = ''): string =>
  procedure(`measurements:
  height: { name: height, limit: ${limit}, with: dial gauge, outside: Renew it. }${mark}
steps:
  - measure: height
`);

export const rule: Rule = {
  name: 'measurement/no-side',
  severity: 'error',
  finds: 'A limit that is one value, without saying on which side of it a reading is right.',
  why: 'No reading can be judged by it, so none would ever be outside.',
  mend: 'Write `max`, `min`, a range or a tolerance.',
  bad: height('0.5 mm', ' # <-'),
  good: height('max 0.5 mm'),
  check(context, tell) {
    const look = (holder: object, key: string, limit: Quantity | undefined) => {
      if (limit && limit.low === null && limit.high === null)
        tell({
          span: spanOf(holder, key),
          message: `\`${limit.text}\` does not say on which side of it a reading is right. Write \`max ${limit.text}\`, \`min ${limit.text}\`, a range with two dots, or a tolerance with ±.`,
        });
    };
    for (const document of [...context.vehicles, ...context.works]) {
      for (const one of Object.values(document.measurements ?? {})) look(one, 'limit', one.limit);
      if (document.kind === 'vehicle') for (const fluid of Object.values(document.fluids ?? {})) look(fluid, 'range', fluid.range);
    }
    for (const { group } of context.fasteners) for (const stage of group.stages ?? []) look(stage, 'window', stage.window);
  },
};
