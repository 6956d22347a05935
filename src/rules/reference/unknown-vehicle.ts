import { renameFix } from '../../findings/fixes.js';
import { didYouMean } from '../../findings/suggest.js';
import { asList } from '../../library/scope.js';
import { spanOf, spanOfName } from '../../schema/origin.js';
import type { Span } from '../../source/source.js';
import { procedure } from '../examples.js';
import type { Found, Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-vehicle',
  severity: 'error',
  finds: 'A vehicle profile that the library does not have.',
  why: 'Without it there are no torques.',
  mend: 'Correct the name, or write the profile.',
  bad: 'kind: procedure\nid: example\nname: Example work\nfor: sample-vna # <-\nsteps:\n  - inspect: leaks\n',
  good: procedure('steps:\n  - inspect: leaks\n'),
  check(context, tell) {
    const { vehicles } = context.library;
    const told = (id: string, span: Span): Found => {
      const known = context.allShared('vehicles');
      return { span, fix: renameFix(span, id, known), message: `There is no vehicle profile \`${id}\`.${didYouMean(id, known)}` };
    };
    for (const document of [...context.works, ...context.catalogues])
      for (const id of asList(document.for))
        if (!vehicles.has(id) && !context.isBroken(id)) tell(told(id, spanOfName(document, 'for', id)));
    for (const job of context.jobs)
      if (!vehicles.has(job.vehicle) && !context.isBroken(job.vehicle)) tell(told(job.vehicle, spanOf(job, 'vehicle')));
  },
};
