import { didYouMean, Names } from '../../findings/suggest.js';
import { asList } from '../../library/scope.js';
import { spanOfName } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-in-profile',
  severity: 'error',
  finds: 'A part that names fasteners, a cover or a circuit which is not declared.',
  why: 'The torque that hangs on that name is never printed.',
  mend: 'Correct the name, or declare it.',
  bad: procedure('parts:\n  bracket: { fasteners: braket-bolts } # <-\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n'),
  good: procedure(
    'parts:\n  bracket: { behind: [cover] }\nsteps:\n  - remove: cover\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - fit: cover\n',
  ),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      if (!document.parts) continue;
      const scopes = document.kind === 'vehicle' ? [] : context.scopesOf(document);
      const parts = new Names([...Object.keys(document.parts ?? {}), ...scopes.flatMap((scope) => [...scope.parts.keys()])]);
      const groups = new Names([...Object.keys(document.fasteners ?? {}), ...scopes.flatMap((scope) => [...scope.fasteners.keys()])]);
      for (const part of Object.values(document.parts ?? {})) {
        for (const group of asList(part.fasteners))
          if (!groups.has(group))
            tell({
              span: spanOfName(part, 'fasteners', group),
              message: `There is no fastener group \`${group}\`.${didYouMean(group, groups)} Declare it under \`fasteners:\`.`,
            });
        for (const cover of part.behind ?? [])
          if (!parts.has(cover))
            tell({
              span: spanOfName(part, 'behind', cover),
              message: `There is no part \`${cover}\` to be behind.${didYouMean(cover, parts)} Correct the name, or declare it under \`parts:\`.`,
            });
      }
    }
  },
};
