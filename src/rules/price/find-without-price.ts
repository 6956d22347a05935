import { procedure } from '../examples.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

const work = (takes: string): string =>
  `might-find:\n  worn: { says: the pump is worn, at: look${takes} }${takes === '' ? ' # <-' : ''}\nsteps:\n  - inspect: pump\n    id: look\n    says: No play.\n`;

export const rule: Rule = {
  name: 'price/find-without-price',
  severity: 'warning',
  finds: 'Something that might be found and costs nothing more.',
  why: 'The quote says “this may change” and then the same total again.',
  mend: 'Write what one case takes: `labour:`, `items:` or `sublet:`.',
  bad: procedure(work('')),
  good: procedure(work(', labour: 0.5 h')),
  check(context, tell) {
    for (const { 'might-find': finds } of context.works)
      for (const [id, { labour, items, sublet }] of Object.entries(finds ?? {}))
        if (labour === undefined && items === undefined && sublet === undefined)
          tell({
            span: spanOf(finds ?? {}, id, 'key'),
            message: `\`${id}\` is told to the customer with the same total as without it. Write what one case takes: \`labour:\`, \`items:\` or \`sublet:\`.`,
          });
  },
};
