import { fileOf } from '../../library/document.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { textsIn } from '../texts.js';

/** How people mark what they have still to write, and how the files of `baywright new` do. */
const mark = /\b(?:TODO|TBD|TBC|FIXME|XXX)\b|\?{2,}|^\?$/;
/** Whether a file has any of them, in a remark, too: most have none. */
const anywhere = /TODO|TB[DC]|FIXME|XXX|\?[?"']/;

export const rule: Rule = {
  name: 'paper/unfinished',
  severity: 'warning',
  finds: 'A text that somebody has still to write: TODO, TBD, “??”.',
  why: 'It is printed as it stands, and read out to the customer.',
  mend: 'Write what belongs there, or delete the key.',
  bad: procedure('steps:\n  - inspect: leaks\n    says: TODO where to look # <-\n'),
  good: procedure('steps:\n  - inspect: leaks # TODO another picture\n    says: Look beneath the sump.\n'),
  looksAt: 'subjects',
  check({ subjects }, tell) {
    for (const document of subjects) {
      if (!anywhere.test(fileOf(document).text)) continue;
      for (const { holder, key, text } of textsIn(document)) {
        const found = mark.exec(text);
        if (found)
          tell({
            span: spanOf(holder, key),
            message: `“${found[0]}” says that this is still to be written, and it goes onto paper as it stands. Write what belongs here, or delete the key.`,
          });
      }
    }
  },
};
