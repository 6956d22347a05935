import { renameFix } from '../../findings/fixes.js';
import { didYouMean, Names } from '../../findings/suggest.js';
import { spanOf } from '../../schema/origin.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const taken = 'measurements: { height: { name: height, unit: mm, with: gauge } }\nsteps:\n  - measure: height\n';

export const rule: Rule = {
  name: 'reference/unknown-measurement',
  severity: 'error',
  finds: 'A reading in a job order of something that neither its procedures nor its vehicle measure.',
  why: 'It is used for nothing: the mixture is computed and the part chosen as if nobody had measured.',
  mend: 'Correct the name, or take the reading out.',
  bad: job('measured:\n  hieght: 2 mm # <-\n', taken),
  good: job('measured:\n  height: 2 mm\n', taken),
  check(context, tell) {
    for (const one of context.jobs) {
      const plans = context.plans.map(({ plan }) => plan);
      if (plans.length === 0) continue;
      const known = new Names(plans.flatMap(({ scope }) => [...scope.measurements.keys()]));
      const { measured = {} } = one;
      for (const name of Object.keys(measured)) {
        // Another way of the job may be what measures it.
        if (known.has(name) || (one.alternatives && context.isShared('measurements', name))) continue;
        const span = spanOf(measured, name, 'key');
        tell({
          span,
          fix: renameFix(span, name, known),
          message: `Nothing in this job measures \`${name}\`, so the reading is used for nothing.${didYouMean(name, known)} Correct the name, or take it out.`,
        });
      }
    }
  },
};
