import type { Span } from '../../source/source.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { stepSpan } from '../context.js';
import { exampleLibrary } from '../example-library.js';
import { isOnlyOpened } from '../fill-points.js';
import type { Rule } from '../rule.js';

const van = exampleLibrary['vehicles/sample-van.yaml'] ?? '';

export const rule: Rule = {
  name: 'fluid/no-item',
  severity: 'warning',
  finds: 'A fluid, a charge or its oil that names no item of the catalogue.',
  why: 'What is poured in is then on no parts list and no quote: the shop gives it away.',
  mend: 'Write `item:` with its name in the parts catalogue.',
  bad: { 'vehicles/sample-van.yaml': van.replace('  coolant:\n', '  coolant: # <-\n').replace('    item: coolant-ready\n', '') },
  good: { 'vehicles/sample-van.yaml': van },
  check(context, tell) {
    const unnamed = (at: Span, id: string) =>
      tell({
        span: at,
        message: `\`${id}\` names no \`item:\`, so that what is filled in is on no parts list and no quote. Write its name in the parts catalogue.`,
      });
    for (const { fluids = {}, charges = {} } of context.vehicles) {
      for (const [id, one] of Object.entries(fluids))
        if (!one.item && !isOnlyOpened(one) && !isDamaged(one)) unnamed(spanOf(fluids, id, 'key'), id);
      for (const [id, one] of Object.entries(charges)) {
        if (isDamaged(one)) continue;
        if (!one.item) unnamed(spanOf(charges, id, 'key'), id);
        if (one.oil && !one['oil-item'])
          tell({
            span: spanOf(one, 'oil'),
            message: `\`${one.oil}\` goes in with \`${id}\` and names no \`oil-item:\`, so that it is on no parts list and no quote. Write its name in the parts catalogue.`,
          });
      }
    }
    for (const { planned } of context.placesOf('fill'))
      for (const id of planned.objects) {
        const fluid = planned.participant.scope.fluids.get(id);
        if (fluid && !fluid.item && isOnlyOpened(fluid) && !isDamaged(fluid)) unnamed(stepSpan(planned), id);
      }
  },
};
