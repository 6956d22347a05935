import { isAliased } from '../../schema/origin.js';
import { fastener, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'yaml/shared-by-anchor',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A torque or a fastener group that two places share through a YAML anchor.',
  why: 'Whoever changes the one changes the other without seeing it.',
  mend: 'Write the value out at both places.',
  bad: procedure(
    'parts: { bracket: { fasteners: bracket-bolts } }\nfasteners:\n  bracket-bolts: { count: 1, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: &s [{ torque: 20 N·m }] }\n  other-bolts: { count: 1, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: *s } # <-\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - tighten: bracket-bolts\n',
  ),
  good: fastener('count: 1, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }]'),
  check(context, tell) {
    for (const { group, at } of context.fasteners) {
      if (isAliased(group) || (group.stages && (isAliased(group.stages) || group.stages.some(isAliased))))
        tell({
          span: at(),
          message:
            'This group takes its stages from another place through an alias (`*name`): a change there would silently change this torque. Write the stages out.',
        });
    }
  },
};
