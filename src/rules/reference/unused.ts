import { Names, nearest } from '../../findings/suggest.js';
import { asList, tableOf } from '../../library/scope.js';
import type { WorkDocument } from '../../library/document.js';
import { writtenIn } from '../../plan/written.js';
import { fileWith, isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unused',
  severity: 'info',
  finds: 'Something that a procedure or preparation declares and no step of it uses.',
  why: 'A torque that nobody reads was meant for some step.',
  mend: 'Use it, or delete it.',
  bad: procedure(`measurements:
  gap: { name: gap, unit: mm } # <-
steps:
  - clean: bench
`),
  good: procedure(`measurements:
  gap: { name: gap, unit: mm }
steps:
  - measure: gap
`),
  check(context, tell) {
    for (const work of context.works) {
      // Of a document that could not be read in full, the lost part may use it.
      if (isDamaged(work) || fileWith(work).path.startsWith('baywright:')) continue;
      let words: ReadonlyMap<string, number> | undefined;
      let said: Names | undefined;
      for (const kind of ['measurement', 'choice', 'temporary'] as const) {
        const table = tableOf(work, kind);
        for (const name of Object.keys(table ?? {})) {
          if (!table || !/^[\w-]+$/.test(name)) continue;
          words ??= wordsIn(work);
          const own = wordsIn((table as Readonly<Record<string, unknown>>)[name]);
          if ((words.get(name) ?? 0) > (own.get(name) ?? 0)) continue;
          // A step that misspells the name means it; that is told there.
          said ??= namesSaid(work);
          if (nearest(name, said) !== undefined) continue;
          tell({
            span: spanOf(table, name, 'key'),
            message: `\`${name}\` is declared here and nothing in this document uses it. Use it in a step, or delete it.`,
          });
        }
      }
    }
  },
};

/** How often each word stands in the texts of a value; keys are no texts. */
function wordsIn(value: unknown, into = new Map<string, number>()): ReadonlyMap<string, number> {
  if (typeof value === 'string') for (const [word] of value.matchAll(/[\w-]+/g)) into.set(word, (into.get(word) ?? 0) + 1);
  else if (typeof value === 'object' && value !== null) for (const one of Object.values(value)) wordsIn(one, into);
  return into;
}

/** What steps measure, choose, place and clear. */
const namesSaid = (work: WorkDocument): Names =>
  new Names(
    writtenIn(work).all.flatMap(({ step }) => (['measure', 'choose', 'place', 'clear'] as const).flatMap((verb) => asList(step[verb]))),
  );
