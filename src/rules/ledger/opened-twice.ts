import { called } from '../../ledger/called.js';
import type { Line } from '../../ledger/ledger.js';
import { closerOf, type Pair } from '../../ledger/verbs.js';
import type { PlanStep } from '../../plan/plan.js';
import { type RuleContext, stepSpan } from '../context.js';
import { lookBehindTheCover, procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'ledger/opened-twice',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'Something is opened a second time before it was closed.',
  why: 'One of the two steps is wrong, and nobody in the bay can tell which.',
  mend: 'Delete one of the two, or close it in between.',
  bad: procedure('steps:\n  - remove: cover\n  - remove: cover # <-\nclose-up:\n  - fit: cover\n'),
  good: procedure(lookBehindTheCover),
  check(context, tell) {
    for (const { step, line } of context.problems('opened-twice')) {
      tell({
        span: context.objectSpan(step, line.object),
        message: `${called(step, line.object)} is ${states[line.pair]} already. ${whatToDo(context, step, line)}`,
        related: [{ span: stepSpan(line.opened), message: 'since here' }],
      });
    }
  },
};

/** What is so since a step that begins a line. */
const states: Readonly<Record<Pair, string>> = {
  remove: 'off',
  disconnect: 'disconnected',
  open: 'open',
  drain: 'drained',
  raise: 'raised',
  loosen: 'loose',
  support: 'supported',
  compress: 'compressed',
  lock: 'locked',
  place: 'in',
  'move-aside': 'moved aside',
  'switch-off': 'off',
  isolate: 'isolated',
};

/** Documents that are right each on its own share what they open. */
function whatToDo(context: RuleContext, step: PlanStep, { opened, object, pair }: Line): string {
  const [own, other] = [step.participant.document, opened.participant.document];
  if (own === other) return 'Delete this step, or close it in between.';
  const [opener, closer] = [`\`${pair}: ${object}\``, `\`${closerOf(pair)}: ${object}\``];
  if (context.troubled.some(({ asked, plan }) => asked.length === 1 && asked[0] === own.id && plan.steps.includes(step)))
    return `\`${other.id}\`, which \`${own.id}\` needs, does ${opener} and ${closer}. Delete both here, with what tightens it.`;
  return `\`${other.id}\` does it as well. Put ${opener} and ${closer} into a preparation that both need: a job then does them once.`;
}
