import { called } from '../../ledger/called.js';
import type { PlanStep } from '../../plan/plan.js';
import { writtenIn } from '../../plan/written.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { isRenewed } from '../steps.js';

export const rule: Rule = {
  name: 'ledger/not-open',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'Something is put back, closed or taken out that was not off, open or in.',
  why: 'The sheet and the vehicle no longer agree; usually a name is wrong or the opening step is missing.',
  mend: 'Add the opening step, or correct the name.',
  bad: procedure('steps:\n  - inspect: leaks\nclose-up:\n  - fit: cover # <-\n'),
  good: procedure(lookBehindTheCover),
  check(context, tell) {
    for (const { step, object } of context.problems('never-opened')) {
      const pair = step.does.closes;
      const missing = `no step before says \`${pair}: ${object}\`.`;
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} is not open here: ${
          step.verb === 'fit' && isRenewed(step, object)
            ? `${missing} \`renew: ${object}\` takes it off and puts the new one on. Delete this step, or write \`remove: ${object}\` where it comes off, and this step with \`new: true\` in place of that one.`
            : `${missing} Add that step, or correct the name.${broughtSo(step, object)}`
        }`,
      });
    }
  },
};

/** What the vehicle comes in with is no line of the ledger: a parking brake that is on, pressure, a boom that is up. */
function broughtSo({ verb, participant: { document, scope } }: PlanStep, object: string): string {
  if (verb === 'close' && writtenIn(document).all.some((step) => step.verb === 'open' && step.names.includes(object)))
    return ` What is open when the vehicle comes in and is shut for the work, as a valve, is switched off: \`switch-off: ${object}\`, and on again with \`switch-on: ${object}\`.`;
  if (verb === 'lower') return ` What is up when the vehicle comes in is made sure of with \`confirm: ${object}\`.`;
  if (verb !== 'release' && verb !== 'unlock') return '';
  if (scope.fluids.has(object) || scope.charges.has(object))
    return ' Pressure is let off with `open:` and the part that it goes through, or with `confirm:`, and proved with `measure:`.';
  return ` What is on when the vehicle comes in, as a parking brake, is switched off: \`switch-off: ${object}\`, and on again with \`switch-on: ${object}\`.`;
}
