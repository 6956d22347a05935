import { didYouMean, Names } from '../../findings/suggest.js';
import { otherWays, planJob } from '../../plan/merge.js';
import { asWritten } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/never-fitted',
  severity: 'error',
  finds: 'A part that is to be renewed and is never taken off and fitted.',
  why: 'It is bought, and stays in the box.',
  mend: 'Need the preparation that takes it off, or take it out of `renew:`.',
  bad: procedure('renew: [pump] # <-\nsteps:\n  - inspect: leaks\n'),
  good: procedure(
    'renew: [pump]\nsteps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n  - tighten: pump-bolts\n  - fit: cover\n',
  ),
  check(context, tell) {
    const own = context.plans.map(({ plan }) => ({ plan, asking: context.jobs }));
    const others = context.jobs
      .flatMap(otherWays)
      .map(({ job }) => ({ plan: planJob(context.library, job), asking: [job] }))
      .filter(({ plan }) => plan.fits && !plan.incomplete);
    for (const { plan, asking } of [...own, ...others]) {
      const renewing: readonly Renewing[] = [...plan.participants.map(({ document }) => document), ...asking];
      if (!renewing.some(({ renew }) => renew)) continue;
      const fitted = new Names(
        plan.steps
          .filter((step) => ['fit', 'renew', 'close', 'connect'].includes(step.verb))
          .flatMap((step) => step.objects.flatMap((object) => [object, asWritten(step, object)])),
      );
      for (const { renew = [] } of renewing)
        for (const [index, part] of renew.entries())
          if (!fitted.has(part))
            tell({
              span: spanOf(renew, index),
              message: `\`${part}\` is to be renewed, but no step here or in what is needed fits it.${didYouMean(part, fitted)} Need the preparation that takes it off, or take it out of \`renew:\`.`,
            });
    }
  },
};

/** Who asks for parts to be renewed: documents, a job beside its works, another way of a job. */
interface Renewing {
  readonly renew?: readonly string[];
}
