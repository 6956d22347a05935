import { type VerbName, verbsIn } from '../../ledger/verbs.js';
import { isDamaged, spanOf, spanOfName } from '../../schema/origin.js';
import type { Step } from '../../schema/generated/types.js';
import type { Span } from '../../source/source.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

/** What has its own blanks for the one thing that it is about. */
const oneAtATime: readonly VerbName[] = ['drain', 'fill', 'choose', 'wait'];
const takesOne: ReadonlySet<VerbName> = new Set(oneAtATime);

export const rule: Rule = {
  name: 'step/one-action',
  severity: 'error',
  finds: 'A step without a verb, or with two; two fluids drained or filled, two choices made or two times waited in one.',
  why: 'One step, one tick. A second action behind the same box is the one that is forgotten.',
  mend: 'Write one verb a step; put the second into a step of its own.',
  bad: procedure('steps:\n  - says: Look around. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Look around.\n'),
  check(context, tell) {
    const told = new Set<Step>();
    const single = (step: Step, verb: VerbName, names: readonly string[], span: () => Span) => {
      if (names.length < 2 || told.has(step)) return;
      told.add(step);
      tell({
        span: span(),
        message: `\`${verb}\` takes one thing a step: each has its own tick${verb === 'wait' || verb === 'choose' ? '' : ', its own vessel and its own figure'}. Put \`${names[1]}\` into a step of its own.`,
      });
    };
    // What is handed on as a parameter shows only in a plan.
    for (const { planned, plan } of context.placesOf(oneAtATime))
      single(planned.step, planned.verb, planned.objects, () => spanOfObject(plan, planned, planned.objects[1] ?? ''));
    for (const { step, verb, verbs, names } of context.steps) {
      if (verb && takesOne.has(verb)) single(step, verb, names, () => spanOfName(step, verb, names[1] ?? ''));
      if (verbs === 1 || isDamaged(step)) continue;
      const found = verbsIn(step);
      if (found.length === 0)
        tell({
          span: spanOf(step),
          message: `This step says nothing to do: it has no verb. Begin it with one, for example \`inspect:\`, \`remove:\` or \`tighten:\`.`,
        });
      else
        tell({
          span: spanOf(step, found[1] ?? '', 'key'),
          message: `This step has ${found.length} verbs (${found.join(', ')}). Put \`${found[1]}\` into a step of its own, with its own dash.`,
        });
    }
  },
};
