import { called } from '../../ledger/called.js';
import { spanOfObject, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const lid = (first: string, second: string): string =>
  procedure(`parts: { lid: { name: front lid } }
steps:
  - remove: lid
close-up:
  - clean: lid
${first}${second}`);
const apply = '  - apply: lid\n    agent: sealant\n';
const fit = '  - fit: lid\n';

/** What goes between two faces, or on a thread; a grease or a wax may come later. */
const between: ReadonlySet<string | undefined> = new Set(['sealant', 'threadlocker', 'adhesive']);

export const rule: Rule = {
  name: 'order/applied-late',
  severity: 'warning',
  finds: 'Sealant, threadlocker or adhesive is applied to a part that is back on already.',
  why: 'It belongs between the faces; nobody gets it there any more.',
  mend: 'Put `apply:` before the step that puts the part on.',
  bad: lid(fit, apply.replace('lid\n', 'lid # <-\n')),
  good: lid(apply, fit),
  check(context, tell) {
    for (const place of context.placesOf('apply')) {
      const { plan, planned, before } = place;
      if (!between.has(planned.step.agent)) continue;
      for (const object of planned.objects) {
        const last = before.findLast(
          ({ does, objects }) => (does.opens === 'remove' || does.closes === 'remove') && objects.includes(object),
        );
        if (!last?.does.closes) continue;
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `${called(planned, object)} is back on already when ${planned.step.agent} is applied here. Put this step before ${stepWords(last)}.`,
        });
      }
    }
  },
};
