import { numberIn } from '../../quantity/quantity.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

const bolts = (stage: string) =>
  fastener(
    `count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 25 N·m }, { torque: 25 N·m, ${stage} }]`,
  );

/** km: what is due before belongs to the job itself, as `after: run` (common practice, no source). */
const least = 1;

export const rule: Rule = {
  name: 'torque/re-torque-distance',
  severity: 'error',
  looksAt: 'fasteners',
  finds: 'A stage after a distance that does not say which, or one with a distance that comes after something else.',
  why: 'The customer gets no slip that says when to come back.',
  mend: 'Write both: `after: distance` and `distance: 80 km`.',
  bad: bolts('after: distance'),
  good: bolts('after: distance, distance: 80 km'),
  check(context, tell) {
    for (const { id, group } of context.fasteners)
      for (const stage of group.stages ?? []) {
        if (isDamaged(stage)) continue;
        if (stage.after === 'distance' && !stage.distance)
          tell({
            span: spanOf(stage, 'after'),
            message: `\`${id}\` is tightened again after a distance, and nothing says after which. Write \`distance: 80 km\`, with the maker’s figure.`,
          });
        if (stage.after === 'distance' && stage.distance && numberIn(stage.distance, 'km') < least)
          tell({
            span: spanOf(stage, 'distance'),
            message: `\`${id}\` is tightened again after ${stage.distance.text}: nobody comes back so soon. Is the unit right?`,
          });
        if (stage.distance && stage.after !== 'distance')
          tell({
            span: spanOf(stage, 'distance'),
            message: `This stage of \`${id}\` has a distance, and ${stage.after ? `comes after \`${stage.after}\`` : 'belongs to the job'}. Write \`after: distance\`, or delete \`distance:\`.`,
          });
      }
  },
};
