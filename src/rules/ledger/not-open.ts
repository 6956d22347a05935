import { called } from '../../ledger/called.js';
import { asList } from '../../library/scope.js';
import type { Line } from '../../ledger/ledger.js';
import type { PlanStep } from '../../plan/plan.js';
import { writtenIn } from '../../plan/written.js';
import { type RuleContext, stepSpan } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Found, Rule } from '../rule.js';
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
    for (const { step, object, before } of context.problems('never-opened')) {
      if (before?.closed) {
        tell(closedTwice(context, step, object, before, before.closed));
        continue;
      }
      const pair = step.does.closes;
      const missing = `no step before says \`${pair}: ${object}\`.`;
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} is not open here: ${
          step.verb === 'fit' && isRenewed(step, object)
            ? `${missing} \`renew: ${object}\` takes it off and puts the new one on. Delete this step, or write \`remove: ${object}\` where it comes off, and this step with \`new: true\` in place of that one.`
            : `${missing} Add that step, or correct the name.${onlyLoose(step, object) || broughtSo(step, object)}`
        }`,
      });
    }
  },
};

/** What is only slackened is still on. */
function onlyLoose({ participant: { document, scope } }: PlanStep, object: string): string {
  const names = [object, ...asList(scope.parts.get(object)?.fasteners)];
  return writtenIn(document).all.some((step) => step.verb === 'loosen' && step.names.some((name) => names.includes(name)))
    ? ` \`loosen:\` slackens what holds it, and does not take it off.`
    : '';
}

/** What whoever opens it closes as well is no business of another document. */
function closedTwice(context: RuleContext, step: PlanStep, object: string, { opened, pair }: Line, closed: PlanStep): Found {
  const isOfOpener = (one: PlanStep): boolean => one.participant === opened.participant;
  const isFirst = isOfOpener(step) && !isOfOpener(closed);
  const [wrong, other] = isFirst ? [closed, step] : [step, closed];
  const what = called(wrong, object);
  const { id } = opened.participant.document;
  const closing = `\`${other.verb}: ${object}\``;
  return {
    span: context.objectSpan(wrong, object),
    message: isOfOpener(wrong)
      ? `${what} is closed twice: ${closing} before this step has done so. Delete one of the two, or write \`${pair}: ${object}\` between them.`
      : `${what} is closed twice: \`${id}\` does \`${pair}: ${object}\`, and ${closing} as well. Delete this step.${wrong.verb === 'fill' && /oil|öl/i.test(what) ? ` What is put into a part before it goes on is \`lubricate:\`.` : ''}`,
    related: [{ span: stepSpan(other), message: 'closed here as well' }],
  };
}

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
