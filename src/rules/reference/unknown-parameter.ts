import { didYouMean, Names, oneOf } from '../../findings/suggest.js';
import type { WorkDocument } from '../../library/document.js';
import { once } from '../../once.js';
import { workDocument } from '../../library/library.js';
import { wantedOf } from '../../plan/needs.js';
import { isParameter } from '../../library/scope.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-parameter',
  severity: 'error',
  finds: 'A parameter that a preparation does not have, or a `$name` in a step without such a parameter.',
  why: 'What is given to the wrong name is not done.',
  mend: 'Correct the name.',
  bad: procedure('needs: [opened: { tops: [cover] }]\nsteps:\n  - inspect: leaks\n') && {
    'procedures/opened.yaml':
      'kind: preparation\nid: opened\nname: Opened\nparams: { covers: {} }\nsteps:\n  - remove: $cover # <-\n  - clean: $covers\n',
  },
  good: {
    'procedures/opened.yaml':
      'kind: preparation\nid: opened\nname: Opened\nparams: { covers: {} }\nsteps:\n  - remove: $covers\nclose-up:\n  - fit: $covers\n',
  },
  check(context, tell) {
    const knownOf = new Map<WorkDocument, Names>();
    const paramsOf = (document: WorkDocument): Names =>
      once(knownOf, document, () => new Names(document.kind === 'preparation' ? Object.keys(document.params ?? {}) : []));
    for (const { document, step, verb, names, takesParameters } of context.steps) {
      if (!verb || !takesParameters) continue;
      for (const name of names)
        if (isParameter(name) && !paramsOf(document).has(name.slice(1)))
          tell({
            span: spanOf(step, verb),
            message: `This document has no parameter \`${name.slice(1)}\`.${didYouMean(name.slice(1), paramsOf(document))} Parameters are declared under \`params:\`.`,
          });
    }
    for (const work of context.works) {
      for (const [index, need] of (work.needs ?? []).entries()) {
        const wanted = wantedOf(need, context.library);
        const document = workDocument(context.library, wanted.id);
        if (!document) continue;
        for (const name of Object.keys(wanted.params))
          if (!paramsOf(document).has(name))
            tell({
              span: spanOf(work.needs ?? work, index),
              message: `\`${wanted.id}\` has no parameter \`${name}\`.${didYouMean(name, paramsOf(document))} ${paramsOf(document).size > 0 ? `It has ${oneOf(paramsOf(document))}.` : 'It takes none.'}`,
            });
      }
    }
  },
};
