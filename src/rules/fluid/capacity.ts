import { didYouMean } from '../../findings/suggest.js';
import { isLost, namesWritten } from '../../library/written.js';
import { spanOf, spanOfName } from '../../schema/origin.js';
import { litres } from '../../job/format.js';
import type { Rule } from '../rule.js';

/** Millilitres for litres are a thousandth; a line that is opened may let out a two-hundredth of a tank. */
const leastShare = 500;

export const rule: Rule = {
  name: 'fluid/capacity',
  severity: 'error',
  looksAt: 'vehicles',
  finds:
    'More comes out at a drain than the system holds, or next to nothing of it; what is caught of it, or goes in dry, that does not go with that.',
  why: 'The three numbers (total capacity, what comes out, dry fill) are mixed up, and the system is overfilled.',
  mend: 'Look the numbers up again.',
  bad: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant:\n    name: battery coolant\n    spec: S-1\n    item: coolant-ready\n    capacity: 5 L\n    drains: [{ through: [tap], gives: 8 L }] # <-\n    waste: antifreeze\n',
  },
  good: {
    'vehicles/other-van.yaml':
      'kind: vehicle\nid: other-van\nname: Other van\nparts: { tap: { circuit: coolant } }\nfluids:\n  coolant:\n    name: battery coolant\n    spec: S-1\n    item: coolant-ready\n    capacity: 8 L\n    drains: [{ through: [tap], gives: 5 L }]\n    waste: antifreeze\n',
  },
  check(context, tell) {
    for (const vehicle of context.vehicles) {
      for (const [id, fluid] of Object.entries(vehicle.fluids ?? {})) {
        const dry = fluid['dry-fill'] && litres(fluid['dry-fill']);
        if (dry && (dry.gt(litres(fluid.capacity).times(1.1)) || dry.lt(litres(fluid.capacity).div(5))))
          tell({
            span: spanOf(fluid, 'dry-fill'),
            message: `\`${id}\` holds ${fluid.capacity.text}, and ${fluid['dry-fill']?.text} go in when it is dry. Is the unit right? \`capacity:\` is the whole system.`,
          });
        for (const way of fluid.drains ?? []) {
          const gives = litres(way.gives);
          if (gives.gt(litres(fluid.capacity)))
            tell({
              span: spanOf(way, 'gives'),
              message: `${way.gives.text} cannot come out of \`${id}\`, which holds ${fluid.capacity.text}. \`capacity:\` is the whole system, \`gives:\` what comes out at these openings.`,
            });
          if (gives.lt(litres(fluid.capacity).div(leastShare)))
            tell({
              span: spanOf(way, 'gives'),
              message: `Only ${way.gives.text} comes out of \`${id}\`, which holds ${fluid.capacity.text}. Is the unit right?`,
            });
          const { recovers } = way;
          if (recovers && (litres(recovers).gt(gives) || litres(recovers).lt(gives.div(5))))
            tell({
              span: spanOf(way, 'recovers'),
              message: `${recovers.text} cannot be what is caught of the ${way.gives.text} that come out here. Is the unit right?`,
            });
          for (const opening of way.through)
            if (!vehicle.parts?.[opening] && !namesWritten(vehicle.parts).includes(opening) && !isLost(vehicle, 'parts'))
              tell({
                span: spanOfName(way, 'through', opening),
                message: `There is no part \`${opening}\` to drain \`${id}\` through.${didYouMean(opening, Object.keys(vehicle.parts ?? {}))} Correct the name, or declare it under \`parts:\`.`,
              });
        }
      }
    }
  },
};
