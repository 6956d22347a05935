import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'parts/no-orientation',
  severity: 'warning',
  finds: 'A part that goes in more than one way, without the way that is right.',
  why: 'A gasket the wrong way round leaks after the first heat.',
  mend: 'Write `fits:`: which side, which mark.',
  bad: procedure(`parts:
  seal: { name: seal, both-ways: true } # <-
steps:
  - clean: bench
`),
  good: procedure(`parts:
  seal: { name: seal, both-ways: true, fits: Lip inwards. }
steps:
  - clean: bench
`),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      const parts = document.parts ?? {};
      for (const [id, part] of Object.entries(parts))
        if (part['both-ways'] && !part.fits)
          tell({
            span: spanOf(parts, id, 'key'),
            message: `\`${id}\` goes in more than one way, and nothing says which is right. Write \`fits:\`: which side, which mark.`,
          });
    }
  },
};
