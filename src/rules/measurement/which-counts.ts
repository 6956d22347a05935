import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import { choicesMade } from '../choosing.js';
import type { Rule } from '../rule.js';

const chooses = (takes: string, mark = ''): string =>
  procedure(
    `measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, points: 4${takes}, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height${mark}\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n`,
  );

export const rule: Rule = {
  name: 'measurement/which-counts',
  severity: 'error',
  finds: 'A choice from several readings of which nobody says which counts.',
  why: 'One gasket goes by the largest; of shims each reading has its own.',
  mend: 'Write `takes: max`, `min` or `mean` at the measurement; `takes: each` where each reading chooses an item of its own.',
  bad: chooses('', ' # <-'),
  good: chooses(', takes: max'),
  check(context, tell) {
    for (const { id, choice, from: measurement } of choicesMade(context)) {
      if (!measurement || (measurement.points ?? 1) < 2 || measurement.takes) continue;
      tell({
        span: spanOf(choice, 'from'),
        about: id,
        message: `\`${choice.from}\` has ${measurement.points} readings, and nothing says which of them chooses. Write \`takes: max\`, \`min\` or \`mean\` at it; \`takes: each\` where each reading chooses an item of its own.`,
        related: [{ span: spanOf(measurement, 'points'), message: 'its readings' }],
      });
    }
  },
};
