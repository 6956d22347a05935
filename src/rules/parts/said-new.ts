import { called } from '../../ledger/called.js';
import { jointsOfPart } from '../../ledger/joints.js';
import type { Scope } from '../../library/scope.js';
import { goesBackOld, goesOnNew } from '../../plan/plan.js';
import { isDamaged } from '../../schema/origin.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { inWords } from '../../library/names-in-words.js';
import { onlyPrepares } from '../steps.js';
import type { Rule } from '../rule.js';

const filter = (fresh: string): string =>
  procedure(`parts: { oil-filter: { name: oil filter, item: pump } }
steps:
  - remove: oil-filter
close-up:
  - fit: oil-filter${fresh}
    says: New filter, its ring oiled.
`);

export const rule: Rule = {
  name: 'parts/said-new',
  severity: 'warning',
  finds: 'A step says in words that the part goes on new, and nothing orders it.',
  why: 'It is on no parts list and no quote; the old one goes back, or the job waits.',
  mend: 'Write `new: true` at the step, or `reuse: never` at the part.',
  bad: filter(' # <-'),
  good: filter('\n    new: true'),
  check(context, tell) {
    for (const { plan, planned } of context.placesOf('fit')) {
      const { says } = planned.step;
      if (says === undefined || !anyNew.test(says) || onlyPrepares(plan)) continue;
      const { parts } = planned.participant.scope;
      const part = planned.objects.find(
        (object) =>
          parts.has(object) &&
          !goesOnNew(plan, planned, object) &&
          isSaidNew(says, inWords(object, parts.get(object)?.name)) &&
          goesBackOld(plan, planned, object),
      );
      if (part === undefined || isDamaged(parts.get(part) ?? {}) || isItsOwnNut(planned.participant.scope, part)) continue;
      tell({
        span: spanOfObject(plan, planned, part),
        about: part,
        message: `${called(planned, part)} goes on new by its words, and nothing orders a new one. Write \`new: true\` at this step, or \`reuse: never\` at the part.`,
      });
    }
  },
};

/** Whether the part is what holds it: an axle nut that is new each time is ordered where it is tightened. */
const isItsOwnNut = (scope: Scope, part: string): boolean =>
  jointsOfPart(scope, part).some(({ group }) => {
    const fastener = scope.fasteners.get(group);
    return fastener?.reuse === 'never' || (fastener !== undefined && isDamaged(fastener));
  });

/** In the languages of the tool; most of what is said is passed over by this. */
const anyNew = /\b[Nn](ew|eue[nrs]?)\b/;

/** Whether what is said calls the part new by the last word of its name: “new filter”, “the new oil filter”. */
function isSaidNew(says: string, name: string): boolean {
  const noun = /([\p{L}]+)\s*$/u.exec(name)?.[1];
  if (noun === undefined || !says.toLowerCase().includes(noun)) return false;
  return new RegExp(`\\b(new|neue[nrs]?)\\s+(\\S+\\s+)?\\S*${noun}\\b`, 'iu').test(says);
}
