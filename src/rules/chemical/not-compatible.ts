import { bare } from '../../bare.js';
import type { Part } from '../../schema/generated/types.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

/** Agent and the materials it harms. Common practice, no source; the maker's information comes first. */
const harms: Readonly<Record<string, readonly string[]>> = bare({
  'mineral-oil': ['epdm', 'friction-lining'],
  'engine-oil': ['epdm', 'friction-lining'],
  'mineral-grease': ['epdm', 'friction-lining'],
  'silicone-grease': ['silicone', 'friction-lining'],
  'brake-fluid': ['nbr', 'paint'],
  'brake-cleaner': ['paint', 'plastic'],
  solvent: ['epdm', 'paint', 'plastic', 'friction-lining'],
  'copper-paste': ['epdm', 'friction-lining', 'light-alloy'],
});

export const rule: Rule = {
  name: 'chemical/not-compatible',
  severity: 'warning',
  finds: 'A grease, oil or cleaner that harms what it is put on (common practice, no source).',
  why: 'Mineral grease swells EPDM: the brake pin sticks, the seal weeps.',
  mend: 'Take an agent that suits the material.',
  bad: procedure(`parts: { boot: { name: slide-pin boot, material: [epdm] } }
steps:
  - lubricate: boot
    agent: mineral-grease # <-
`),
  good: procedure(`parts: { boot: { name: slide-pin boot, material: [epdm] } }
steps:
  - lubricate: boot
    agent: silicone-grease
`),
  check(context, tell) {
    for (const { planned } of context.places) {
      const { agent } = planned.step;
      if (!agent) continue;
      for (const object of planned.objects) {
        const harmed = harmedBy(agent, planned.participant.scope.parts.get(object));
        if (harmed)
          tell({
            span: spanOf(planned.step, 'agent'),
            message: `${agent.replaceAll('-', ' ')} harms ${harmed.replaceAll('-', ' ')}, which \`${object}\` is made of (common practice). Take another agent.`,
          });
      }
    }
  },
};

/** A material of a part that an agent harms. */
const harmedBy = (agent: string, part: Part | undefined): string | undefined => part?.material?.find((one) => harms[agent]?.includes(one));
