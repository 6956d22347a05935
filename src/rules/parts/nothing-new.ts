import { isItsOwnFastener, type Plan } from '../../plan/plan.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/nothing-new',
  severity: 'warning',
  finds: 'A procedure that is called “Renew …” or “Replace …”, in which nothing goes on new and nothing is filled in.',
  why: 'The old part goes back on, nothing is ordered, and the quote has no part in it.',
  mend: 'Write `new: true` at the step that fits the new part, or `renew:` the part.',
  bad: {
    'procedures/example.yaml':
      'kind: procedure\nid: example\nname: Renew the front cover # <-\nfor: sample-van\nsteps:\n  - remove: cover\nclose-up:\n  - fit: cover\n',
  },
  good: {
    'procedures/example.yaml':
      'kind: procedure\nid: example\nname: Renew the coolant pump\nfor: sample-van\nsteps:\n  - remove: cover\n  - remove: pump\nclose-up:\n  - fit: pump\n    new: true\n  - tighten: pump-bolts\n  - fit: cover\n',
  },
  check(context, tell) {
    for (const work of context.works) {
      if (work.kind !== 'procedure') continue;
      const promise = [work.name, work.customer?.what ?? ''].find((text) => promisesNew.test(text));
      if (promise === undefined) continue;
      const plans = context.plans.filter(({ asked }) => asked.includes(work.id));
      if (plans.length > 0 && !plans.some(({ plan }) => bringsNew(plan)))
        tell({
          span: promise === work.name ? spanOf(work, 'name') : spanOf(work.customer ?? work, 'what'),
          message: `This is “${promise}”, but no part in it goes on new: none is ordered or charged. Write \`new: true\` at the step that fits the new part, or \`renew:\` with its name.`,
        });
    }
  },
};

/** In the languages of the tool. */
const promisesNew = /\b(renew|replace|exchange|erneuer|ersetz|austausch|auswechsel)/i;

function bringsNew({ steps, renewed }: Plan): boolean {
  if (renewed.size > 0) return true;
  for (const { verb, step, objects, participant } of steps) {
    if (verb === 'renew' || verb === 'fill' || step.new === true) return true;
    const { scope } = participant;
    for (const object of objects) if (scope.parts.get(object)?.reuse === 'never' || isItsOwnFastener(scope, object)) return true;
  }
  return false;
}
