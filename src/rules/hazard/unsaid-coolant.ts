import { asList } from '../../library/scope.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { isHeatedByEngine } from '../danger-names.js';
import type { Rule } from '../rule.js';

const profile = (mark: string, hazard: string): Readonly<Record<string, string>> => ({
  'vehicles/other-van.yaml': `kind: vehicle
id: other-van
name: Other van
parts: { tap: { name: radiator tap, circuit: coolant } }
fluids:
  coolant:${mark}
    name: coolant
    spec: S-1
    item: coolant-ready
${hazard}    capacity: 8 L
    drains: [{ through: [tap], gives: 5 L }]
    waste: antifreeze
waits:
  cooled: 2 h
`,
});

export const rule: Rule = {
  name: 'hazard/unsaid-coolant',
  severity: 'warning',
  looksAt: 'vehicles',
  finds: 'A coolant that an engine heats, and of which neither the profile nor a part of its circuit says that it is dangerous to open.',
  why: 'Hot coolant stands under pressure and scalds whoever opens the cap. Waiting, caution and protection are asked for by the hazard: without it, nothing is.',
  mend: 'Write `hazard: hot` at the fluid, with `opened-after:` the temperature that is measured first.',
  bad: profile(' # <-', ''),
  good: profile('', '    hazard: hot\n    opened-after: [cooled]\n'),
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      const fluids = vehicle.fluids ?? {};
      const saidOf = new Set(Object.values(vehicle.parts ?? {}).flatMap(({ hazard, circuit }) => (hazard ? asList(circuit) : [])));
      for (const [id, fluid] of Object.entries(fluids)) {
        if (fluid.hazard || saidOf.has(id) || isDamaged(fluid) || !isHeatedByEngine(id, fluid)) continue;
        tell({
          span: spanOf(fluids, id, 'key'),
          message: `\`${id}\` is heated by the engine, and nothing says that it is dangerous to open: so no step is asked for a caution, for protection, or to wait until it has cooled. Write \`hazard: hot\`, with \`opened-after: [coolant-temperature]\`, which the preparation \`engine-cold\` measures, or a measurement of your own.`,
        });
      }
    }
  },
};
