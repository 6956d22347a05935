import { asList } from '../../library/scope.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const group = (count: number): string =>
  `count: ${count}, thread: M8x1.25, class: "8.8", drive: 13 AF, reuse: always, threads: dry, sequence: star, stages: [{ torque: 20 N·m }]`;
const brackets = (count: number, mark = ''): string =>
  procedure(`parts: { brackets: { name: brackets, count: 2, seal: used-again, fasteners: bracket-bolts } }
fasteners:
  bracket-bolts: { ${group(count)} }${mark}
steps:
  - remove: brackets
  - clean: brackets
close-up:
  - fit: brackets
  - tighten: bracket-bolts
`);

export const rule: Rule = {
  name: 'fastener/count-by-piece',
  severity: 'warning',
  finds: 'Pieces of one part that do not have as many fasteners each; several wheels in one part.',
  why: 'The sheet has five boxes for ten nuts, and one order of tightening for two wheels.',
  mend: 'Count the fasteners of all pieces together; let each wheel be a part of its own, with the same `fasteners:`.',
  bad: brackets(5, ' # <-'),
  good: brackets(6),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works])
      for (const [id, part] of Object.entries(document.parts ?? {})) {
        const pieces = isDamaged(part) ? 1 : (part.count ?? 1);
        if (pieces < 2) continue;
        for (const name of asList(part.fasteners)) {
          const { count } = document.fasteners?.[name] ?? {};
          if (count === undefined) continue;
          if (part.role === 'wheel')
            tell({
              span: spanOf(part, 'count'),
              message: `\`${id}\` are ${pieces} wheels in one part, and \`${name}\` has one order of tightening for ${count}. Let each wheel be a part of its own, with the same \`fasteners: ${name}\`: its boxes and its order stand on the sheet for each.`,
            });
          else if (count % pieces !== 0)
            tell({
              span: spanOf(document.fasteners ?? document, name, 'key'),
              about: id,
              message: `\`${name}\` counts ${count}, and \`${id}\` are ${pieces}: not as many for each. If ${count} ${count === 1 ? 'holds' : 'hold'} each of them, write \`count: ${count * pieces}\`; if one has more than the other, let each be a part of its own.`,
              related: [{ span: spanOf(part, 'count'), message: 'so many pieces' }],
            });
        }
      }
  },
};
