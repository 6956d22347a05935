import { called } from '../../ledger/called.js';
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
  looksAt: 'troubled',
  finds: 'A step that tightens a joint again which has no stage for that, or only one that comes after the job.',
  why: 'There is no value to tighten it to; or the joint that is meant is another one, and is forgotten.',
  mend: 'Name the joint that has a stage with `after:`, or write one for this joint.',
  bad: withStep('{ torque: 25 N·m }', ' # <-'),
  good: withStep('{ torque: 25 N·m }, { torque: 25 N·m, after: heat-cycle }'),
  check(context, tell) {
    const [owed] = context.problems('re-torque-owed');
    const meant = owed ? `Is \`${owed.joint.group}\` meant, which is tightened again after \`${owed.after}\`? If not, write` : 'Write';
    for (const { joint, step } of context.problems('re-torque-none'))
      tell({
        span: stepSpan(step),
        about: joint.group,
        message: `\`${joint.group}\` has no stage that comes later. ${meant} the joint that is meant, or give this one a stage with \`after: run\`, \`heat-cycle\` or \`distance\`.`,
      });
    for (const { step, joint, after } of context.problems('re-torque-early'))
      tell({
        span: stepSpan(step),
        about: joint.group,
        message: `${called(step, joint.group)} was tightened in this job and is tightened again only after ${after}: this job is over by then, and its paper has a slip that says when to come back. Delete this step; what is done when the vehicle comes back is a procedure of its own.`,
      });
  },
};
