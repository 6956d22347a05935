import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import { did } from '../steps.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'fastener/blind-hole',
  severity: 'warning',
  finds: 'Bolts go into blind holes that nobody has cleared.',
  why: 'Liquid in the hole does not give: the casting cracks before the bolt is tight.',
  mend: 'Add `clean:` with the group before it is tightened.',
  bad: procedure(`parts: { head: { name: head, fasteners: head-bolts } }
fasteners: { head-bolts: { count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, blind-hole: true, stages: [{ torque: 20 N·m }] } }
steps:
  - remove: head
close-up:
  - fit: head
  - tighten: head-bolts # <-
`),
  good: procedure(`parts: { head: { name: head, fasteners: head-bolts } }
fasteners: { head-bolts: { count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, blind-hole: true, stages: [{ torque: 20 N·m }] } }
steps:
  - remove: head
close-up:
  - fit: head
  - clean: head-bolts
    says: All liquid out of the holes.
  - tighten: head-bolts
`),
  check(context, tell) {
    for (const place of context.placesOf('tighten')) {
      for (const { joint, group } of place.joints)
        if (group?.['blind-hole'] && !did(place.before, 'clean', joint.group) && !did(place.before, 'clean', `${joint.group}-holes`))
          tell({
            span: stepSpan(place.planned),
            message: `\`${joint.group}\` goes into blind holes. Add \`clean: ${joint.group}\` before: all liquid out, or the casting cracks.`,
          });
    }
  },
};
