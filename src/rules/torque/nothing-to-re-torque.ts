import { stagesLater } from '../../ledger/joints.js';
import { stepSpan } from '../context.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

const bolts = (stages: string) =>
  fastener(`count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [${stages}]`);
const withStep = (stages: string, mark = '') =>
  `${bolts(stages).replace(' # <-', '')}final:\n  cooled:\n    - re-torque: bracket-bolts${mark}\n`;

export const rule: Rule = {
  name: 'torque/nothing-to-re-torque',
  severity: 'error',
  finds: 'A step that tightens a joint again which has no stage for that.',
  why: 'There is no value to tighten it to; or the joint that is meant is another one, and is forgotten.',
  mend: 'Name the joint that has a stage with `after:`, or write one for this joint.',
  bad: withStep('{ torque: 25 N·m }', ' # <-'),
  good: withStep('{ torque: 25 N·m }, { torque: 25 N·m, after: heat-cycle }'),
  check(context, tell) {
    for (const place of context.placesOf('re-torque'))
      for (const { joint, group } of place.joints)
        if (group && stagesLater(group).length === 0)
          tell({
            span: stepSpan(place.planned),
            about: joint.group,
            message: `\`${joint.group}\` has no stage that comes later. Write the joint that is meant, or give this one a stage with \`after: run\`, \`heat-cycle\` or \`distance\`.`,
          });
  },
};
