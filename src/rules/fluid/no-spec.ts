import { isDamaged, spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/no-spec',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A fluid without a specification.',
  why: 'A colour or a brand says nothing about what may be mixed.',
  mend: 'Write `spec:`.',
  bad: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant: # <-\n    name: battery coolant\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  good: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant:\n    name: battery coolant\n    spec: S-1\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  check(context, tell) {
    for (const vehicle of context.vehicles)
      for (const [id, fluid] of Object.entries(vehicle.fluids ?? {}))
        if (!fluid.spec && !isDamaged(fluid))
          tell({
            span: spanOf(vehicle.fluids ?? vehicle, id, 'key'),
            message: `\`${id}\` has no \`spec:\`. Name the specification; a colour or a brand does not say what may be mixed.`,
          });
  },
};
