import { mayLack, notInFont } from '../../layout/characters.js';
import { fileOf } from '../../library/document.js';
import { codeOf } from '../../lookalikes.js';
import { spanOf } from '../../schema/origin.js';
import { unseenOf } from '../../syntax/unseen.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { textsIn } from '../texts.js';

export const rule: Rule = {
  name: 'paper/no-character',
  severity: 'warning',
  leavesGap: 'figure',
  finds:
    'A text with a character that the font of the paper lacks: a pictogram, letters of another script; one that nobody sees is an error.',
  why: 'A sheet with an empty box in place of a figure could mean anything, so none is printed; a page for a screen is made.',
  mend: 'Write it in other letters.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: Dry, \u2705. # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    says: Dry, 0 °C to 40 °C.\n'),
  looksAt: 'subjects',
  check({ subjects }, tell) {
    for (const document of subjects) {
      const whole = fileOf(document).text;
      // Most files have none, and remarks may have what they like. Behind a backslash any may stand.
      if (!mayLack(whole) && !whole.includes('\\')) continue;
      for (const { holder, key, text } of textsIn(document)) {
        const unseen = unseenOf(text);
        const missing = notInFont(text);
        if (unseen.length > 0)
          tell({
            span: spanOf(holder, key),
            severity: 'error',
            message: `${named(unseen)}: nobody sees that, and no paper draws it. Delete it.`,
          });
        else if (missing.length > 0)
          tell({
            span: spanOf(holder, key),
            message: `The font of the paper lacks ${named(missing)}: a job that uses this text is not printed. Write it in other letters.`,
          });
      }
    }
  },
};

const named = (missing: readonly string[]): string =>
  missing
    .slice(0, 5)
    .map((one) => `“${one}” (${codeOf(one)})`)
    .join(', ');
