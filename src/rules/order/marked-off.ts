import { called } from '../../ledger/called.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { isOpenAt } from '../steps.js';

const mark = '  - mark: cover\n    says: Paint across cover and housing.\n';

export const rule: Rule = {
  name: 'order/marked-off',
  severity: 'info',
  finds: 'The position of a part is marked when it is off already.',
  why: 'Where it sat can no longer be seen; it goes back as it happens to.',
  mend: 'Put `mark:` before the step that takes it off.',
  bad: procedure(`steps:\n  - remove: cover\n${mark.replace('cover\n', 'cover # <-\n')}close-up:\n  - fit: cover\n`),
  good: procedure(`steps:\n${mark}  - remove: cover\nclose-up:\n  - fit: cover\n`),
  check(context, tell) {
    for (const place of context.placesOf('mark')) {
      const { plan, planned } = place;
      for (const object of planned.objects)
        if (isOpenAt(place, object))
          tell({
            span: spanOfObject(plan, planned, object),
            about: object,
            message: `${called(planned, object)} is off already when it is marked here. If it is marked where it sat, put this step before the one that takes it off.`,
          });
    }
  },
};
