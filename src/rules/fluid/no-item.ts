import { isDamaged, spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';

export const rule: Rule = {
  name: 'fluid/no-item',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A fluid or a charge that names no item of the catalogue.',
  why: 'What is poured in is then on no parts list and no quote: the shop gives it away.',
  mend: 'Write `item:` with its name in the parts catalogue.',
  bad: { 'vehicles/sample-van.yaml': van.replace('  coolant:\n', '  coolant: # <-\n').replace('    item: coolant-ready\n', '') },
  good: { 'vehicles/sample-van.yaml': van },
  check(context, tell) {
    for (const vehicle of context.vehicles)
      for (const table of [vehicle.fluids ?? {}, vehicle.charges ?? {}])
        for (const [id, one] of Object.entries(table))
          if (!one.item && !isDamaged(one))
            tell({
              span: spanOf(table, id, 'key'),
              message: `\`${id}\` names no \`item:\`, so that what is filled in is on no parts list and no quote. Write its name in the parts catalogue.`,
            });
  },
};
