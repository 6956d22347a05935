import type { LibraryFile } from '../../library/document.js';
import { once } from '../../once.js';
import { spanOf } from '../../schema/origin.js';
import type { Span } from '../../source/source.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'torque/two-values',
  severity: 'error',
  finds: 'A fastener group declared twice for one vehicle: in its profile and in a procedure, or in two procedures.',
  why: 'Two sheets with two torques for one joint; one of them is wrong.',
  mend: 'Keep it once, in the vehicle profile.',
  bad: procedure(
    'fasteners:\n  pump-bolts: { count: 4, thread: M6, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 8 N·m }] } # <-\nsteps:\n  - inspect: leaks\n',
  ),
  good: procedure('steps:\n  - inspect: leaks\n'),
  compare(shared, tell) {
    const { standing } = shared.library;
    const declared = new Map<string, { readonly file: LibraryFile; readonly stages: string }>();
    for (const file of [...standing.filter(({ card }) => card?.kind === 'vehicle'), ...standing.filter(({ card }) => card?.needs)]) {
      const { card } = file;
      if (!card) continue;
      for (const vehicle of card.kind === 'vehicle' ? [card.id] : shared.vehiclesFor(card.id, card.for))
        for (const [id, stages] of card.fasteners ?? []) {
          const first = once(declared, `${vehicle} ${id}`, () => ({ file, stages }));
          if (first.file === file) continue;
          const [span, other] = [spanOfGroup(file, id), spanOfGroup(first.file, id)];
          if (span && other)
            tell({
              span,
              message:
                first.stages === stages
                  ? `\`${id}\` is declared for \`${vehicle}\` already. One joint, one value: keep it once, in the vehicle profile.`
                  : `\`${id}\` has another value for \`${vehicle}\` already: one of the two is wrong. Keep it once, in the vehicle profile.`,
              related: [{ span: other, message: 'declared here', orHere: first.stages !== stages }],
            });
        }
    }
  },
};

function spanOfGroup({ document }: LibraryFile, id: string): Span | null {
  if (!document || document.kind === 'parts' || document.kind === 'job' || document.kind === 'shop') return null;
  return spanOf(document.fasteners ?? document, id, 'key');
}
