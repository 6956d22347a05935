import { isDamaged, spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fluid/mixture-incomplete',
  severity: 'error',
  looksAt: 'vehicles',
  finds: 'A concentrate without target, range, item or water.',
  why: 'Half-strength product into a diluted rest does not give half strength; without a target nobody can compute it.',
  mend: 'Write `target:`, `range:`, `item:` and `water:`.',
  bad: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant: # <-\n    name: battery coolant\n    spec: S-1\n    form: concentrate\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  good: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant:\n    name: battery coolant\n    spec: S-1\n    form: concentrate\n    item: coolant-ready\n    water: coolant-ready\n    target: 50 %\n    range: 45..55 %\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      for (const [id, fluid] of Object.entries(vehicle.fluids ?? {})) {
        if (isDamaged(fluid)) continue;
        if (fluid.form !== 'concentrate') {
          if (fluid.water !== undefined)
            tell({
              span: spanOf(fluid, 'water'),
              message: `\`${id}\` is poured as it is sold, and names the water to mix it with. Write \`form: concentrate\`, or delete \`water:\`.`,
            });
          continue;
        }
        const lacking = (['target', 'range', 'item', 'water'] as const).filter((key) => fluid[key] === undefined);
        if (lacking.length > 0)
          tell({
            span: spanOf(vehicle.fluids ?? vehicle, id, 'key'),
            message: `\`${id}\` is mixed from concentrate and lacks ${lacking.map((key) => `\`${key}:\``).join(', ')}. Add them: without them nobody can compute what to pour.`,
          });
      }
    }
  },
};
