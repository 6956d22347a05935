import { nearest } from '../../findings/suggest.js';
import { asList, tableOf } from '../../library/scope.js';
import type { WorkDocument } from '../../library/document.js';
import { stepListsOf } from '../../plan/cast.js';
import { spanOf } from '../../schema/origin.js';
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
      for (const kind of ['measurement', 'choice', 'temporary'] as const) {
        const table = tableOf(work, kind);
        for (const name of Object.keys(table ?? {})) {
          const uses = new RegExp(`(?<![\\w-])${name}(?![\\w-])(?!:)`).test(
            withoutLineOf(file.text, table ? spanOf(table, name, 'key').start : 0),
          );
          if (table && !uses && !meant(work, name) && !file.path.startsWith('baywright:'))
            yield {
              span: spanOf(table, name, 'key'),
              message: `\`${name}\` is declared here and nothing in this document uses it. Use it in a step, or delete it.`,
            };
        }
      }
    }
  },
};

/** The text without the line of its own declaration. */
function withoutLineOf(text: string, offset: number): string {
  const start = text.lastIndexOf('\n', offset) + 1;
  const end = text.indexOf('\n', offset);
  return text.slice(0, start) + (end < 0 ? '' : text.slice(end));
}

/** A step that misspells the name means it; that is told there. */
const meant = (work: WorkDocument, name: string): boolean =>
  stepListsOf(work)
    .flatMap(({ steps }) => steps)
    .some((step) =>
      ['measure', 'choose', 'place', 'clear'].some((verb) =>
        asList(step[verb as 'measure']).some((object) => object !== name && nearest(object, [name]) !== undefined),
      ),
    );
