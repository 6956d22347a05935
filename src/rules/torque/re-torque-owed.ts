import { called } from '../../ledger/called.js';
import { once } from '../../once.js';
import { spanOf } from '../../schema/origin.js';
import { fastener } from '../examples.js';
import type { Rule } from '../rule.js';

const bracket = fastener(
  'count: 2, thread: M8, class: "8.8", drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 25 N·m }, { torque: 25 N·m, after: heat-cycle }]',
).replace(' # <-', '');

const whereItGoes: Readonly<Record<string, string>> = {
  run: 'Add `re-torque: X` under `final:`, after the engine has run.',
  'heat-cycle': 'Add `re-torque: X` under `cooled:` of `final:`.',
};

export const rule: Rule = {
  name: 'torque/re-torque-owed',
  severity: 'error',
  looksAt: 'troubled',
  finds: 'A joint that settles when the engine has run or has warmed up and cooled down, and is not tightened again then.',
  why: 'Gaskets settle and the clamp load is gone: it blows or leaks weeks later. No slip tells the customer of it.',
  mend: 'Add a `re-torque:` step under `final:`.',
  bad: bracket.replace('fit: bracket\n', 'fit: bracket # <-\n'),
  good: `${bracket}final:\n  cooled:\n    - re-torque: bracket-bolts\n`,
  check(context, tell) {
    // Where the wrong joint is tightened again, that is told there.
    if (context.problems('re-torque-none').length > 0) return;
    const told = new Map<string, Set<string>>();
    for (const { joint, fitted, stages, after } of context.problems('re-torque-owed')) {
      const span = spanOf(fitted.step, fitted.verb);
      const groups = once(told, `${span.file.path} ${span.start}`, () => new Set());
      if (groups.has(joint.group)) continue;
      groups.add(joint.group);
      tell({
        span,
        about: joint.group,
        message: `${called(fitted, joint.group)} of what goes on here are tightened again after \`${after}\` (stage ${stages.join(', ')}), and no step does that. ${(whereItGoes[after] ?? '').replace('X', joint.group)}`,
      });
    }
  },
};
