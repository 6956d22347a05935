import { didYouMean, Names } from '../../findings/suggest.js';
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
    for (const { plan } of context.plans) {
      if (!plan.participants.some(({ document }) => document.renew)) continue;
      const fitted = new Names(
        plan.steps.filter((step) => ['fit', 'renew', 'close', 'connect'].includes(step.verb)).flatMap((step) => step.objects),
      );
      for (const { document } of plan.participants)
        for (const [index, part] of (document.renew ?? []).entries())
          if (!fitted.has(part))
            tell({
              span: spanOf(document.renew ?? document, index),
              message: `\`${part}\` is to be renewed, but no step here or in what is needed fits it.${didYouMean(part, fitted)} Need the preparation that takes it off, or take it out of \`renew:\`.`,
            });
    }
  },
};
