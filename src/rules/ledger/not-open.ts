import { called } from '../../ledger/called.js';
import type { VerbName } from '../../ledger/verbs.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

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
      tell({
        span: context.objectSpan(step, object),
        message: `${called(step, object)} is not open here: no step before says \`${pair}: ${object}\`. Add that step, or correct the name.${broughtSo(step.verb, object)}`,
      });
    }
  },
};

/** What the vehicle comes in with is not locked or compressed by a step: a parking brake that is on. */
const broughtSo = (verb: VerbName, object: string): string =>
  verb === 'release' || verb === 'unlock'
    ? ` What is on when the vehicle comes in, as a parking brake, is switched off: \`switch-off: ${object}\`, and on again with \`switch-on: ${object}\`.`
    : '';
