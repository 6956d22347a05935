import { Names, nearest } from '../../findings/suggest.js';
import { asList, tableOf } from '../../library/scope.js';
import type { WorkDocument } from '../../library/document.js';
import { stepListsOf } from '../../plan/cast.js';
import { spanOf } from '../../schema/origin.js';
import { placeOf } from '../../source/source.js';
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
  *check(context) {
    for (const work of context.works) {
      const { file } = spanOf(work);
      if (file.path.startsWith('baywright:')) continue;
      let used: ReadonlyMap<string, readonly number[]> | undefined;
      let said: Names | undefined;
      for (const kind of ['measurement', 'choice', 'temporary'] as const) {
        const table = tableOf(work, kind);
        for (const name of Object.keys(table ?? {})) {
          if (!table || !/^[\w-]+$/.test(name)) continue;
          used ??= linesOfWords(file.text);
          const span = spanOf(table, name, 'key');
          const { line } = placeOf(file, span.start);
          if (used.get(name)?.some((other) => other !== line)) continue;
          // A step that misspells the name means it; that is told there.
          said ??= namesSaid(work);
          if (nearest(name, said) !== undefined) continue;
          yield { span, message: `\`${name}\` is declared here and nothing in this document uses it. Use it in a step, or delete it.` };
        }
      }
    }
  },
};

/** The first two lines on which each word stands that is no key. */
function linesOfWords(text: string): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const [index, line] of text.split('\n').entries())
    for (const [word] of line.matchAll(/[\w-]+:?/g)) {
      if (word.endsWith(':')) continue;
      const lines = found.get(word);
      if (!lines) found.set(word, [index + 1]);
      else if (lines.length < 2 && lines[0] !== index + 1) lines.push(index + 1);
    }
  return found;
}

/** What steps measure, choose, place and clear. */
const namesSaid = (work: WorkDocument): Names =>
  new Names(
    stepListsOf(work).flatMap(({ steps }) =>
      steps.flatMap((step) => (['measure', 'choose', 'place', 'clear'] as const).flatMap((verb) => asList(step[verb]))),
    ),
  );
