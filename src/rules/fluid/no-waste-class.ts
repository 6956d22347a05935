import { isDamaged, spanOf } from '../../schema/origin.js';
import { isOnlyOpened } from '../fill-points.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/no-waste-class',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A fluid without a waste class.',
  why: 'What comes out must go somewhere, and somebody pays for it.',
  mend: "Write `waste:` with a class of the shop's waste list.",
  bad: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant: # <-\n    name: battery coolant\n    spec: S-1\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n',
  },
  good: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant:\n    name: battery coolant\n    spec: S-1\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  check(context, tell) {
    for (const vehicle of context.vehicles)
      for (const [id, fluid] of Object.entries(vehicle.fluids ?? {}))
        if (!fluid.waste && !isOnlyOpened(fluid) && !isDamaged(fluid))
          tell({
            span: spanOf(vehicle.fluids ?? vehicle, id, 'key'),
            message: `\`${id}\` has no \`waste:\` class. Say where it goes when it comes out.`,
          });
  },
};
