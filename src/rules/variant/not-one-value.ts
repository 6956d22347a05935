import { combinations, holds } from '../../library/variants.js';
import { isWhole } from '../../library/written.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'variant/not-one-value',
  severity: 'error',
  leavesGap: 'figure',
  finds: 'A variant of the vehicle for which a fastener group has no value, or two.',
  why: 'On that vehicle the sheet has no torque, or the wrong one.',
  mend: 'Give each value of the feature exactly one entry under `variants:`.',
  bad: procedure(
    'parts: { bracket: { fasteners: bracket-bolts } }\nfasteners:\n  bracket-bolts: # <-\n    { count: 2, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }], variants: [{ when: { engine: A1 }, thread: M8 }] }\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - tighten: bracket-bolts\n',
  ),
  good: procedure(
    'parts: { bracket: { fasteners: bracket-bolts } }\nfasteners:\n  bracket-bolts:\n    { count: 2, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }], variants: [{ when: { engine: A1 }, thread: M8 }, { when: { engine: A2 }, thread: M10 }] }\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - tighten: bracket-bolts\n',
  ),
  check(context, tell) {
    for (const { id, group, document, at } of context.fasteners) {
      if (!group.variants || group.variants.length === 0) continue;
      for (const vehicle of document.kind === 'vehicle' ? [document] : context.vehiclesFor(document)) {
        if (!isWhole(vehicle, 'features')) continue;
        const names = [...new Set(group.variants.flatMap((variant) => Object.keys(variant.when)))].filter(
          (name) => vehicle.features?.[name],
        );
        const wrong = combinations(vehicle.features ?? {}, names)
          .map((facts) => ({ facts, matching: group.variants?.filter((variant) => holds(variant.when, facts) === true).length ?? 0 }))
          .find(({ matching }) => matching !== 1);
        if (!wrong) continue;
        // Where its variants ask for nothing that is a feature of the vehicle, it has no value at all.
        const words =
          Object.entries(wrong.facts)
            .map(([name, value]) => `${name} = ${value}`)
            .join(', ') || `\`${vehicle.id}\``;
        tell({
          span: at(),
          message:
            wrong.matching === 0
              ? `\`${id}\` has no value for ${words}. Add an entry for it under \`variants:\`.`
              : `\`${id}\` has ${wrong.matching} values for ${words}. Let exactly one entry hold.`,
        });
      }
    }
  },
};
