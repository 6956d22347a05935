import { called } from '../../ledger/called.js';
import { spanOf } from '../../schema/origin.js';
import { en } from '../../words/en.js';
import { stepSpan } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'gate/interlock',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'The battery is connected, or high voltage energised, while the ignition is not switched off.',
  why: 'Sparks and switched-on loads destroy control units.',
  mend: 'Switch the ignition off before, and on again only after.',
  bad: procedure(
    'steps:\n  - read: fault-codes\n  - switch-off: ignition\n  - wait: ignition-off\n  - disconnect: battery\nclose-up:\n  - switch-on: ignition\n  - connect: battery # <-\n  - tighten: battery\n  - reset: clock\n',
  ),
  good: procedure(
    'steps:\n  - read: fault-codes\n  - switch-off: ignition\n  - wait: ignition-off\n  - disconnect: battery\nclose-up:\n  - connect: battery\n  - tighten: battery\n  - switch-on: ignition\n  - reset: clock\n',
  ),
  check(context, tell) {
    for (const { gate, object, closed } of context.problems('interlock')) {
      tell({
        span: spanOf(gate.step, gate.verb),
        message: `The ${object} must be off when ${called(gate, gate.objects[0] ?? '')} is ${en.done[gate.verb]}, and no step leaves it off. Put \`switch-off: ${object}\` before the opening and \`switch-on: ${object}\` after this step.`,
        related: closed ? [{ span: stepSpan(closed), message: 'switched on again here' }] : [],
      });
    }
  },
};
