import { called } from '../../ledger/called.js';
import { jointsNamed, jointsOfPart } from '../../ledger/joints.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did, heldAt, isOpenAt } from '../steps.js';

const topMount = (first: string, second: string): string =>
  procedure(`parts:
  top-mount: { name: top mount, hazard: spring, fasteners: pump-bolts }
steps:
  - compress: spring
  - remove: top-mount
    warning: A spring that flies off kills. Stand beside it, never over it.
    wear: [gloves, eyes]
close-up:
  - fit: top-mount
${first}${second}`);
const release = '  - release: spring\n';
const tighten = '  - tighten: top-mount\n';

export const rule: Rule = {
  name: 'hazard/spring-let-go-early',
  severity: 'error',
  finds: 'A spring is let go before what holds it is on and tight.',
  why: 'The thread takes the whole spring at its first turns, and strips.',
  mend: 'Fit and tighten what holds the spring before `release:`.',
  bad: topMount(release.replace('\n', ' # <-\n'), tighten),
  good: topMount(tighten, release),
  check(context, tell) {
    for (const place of context.placesOf('release'))
      for (const spring of place.planned.objects) {
        const found = notYetTight(place, spring);
        if (!found) continue;
        const { holder, isOff, off } = found;
        tell({
          span: spanOfObject(place.plan, place.planned, spring),
          about: spring,
          message: `${stepWords(place.planned)} comes before ${called(place.planned, holder)} is ${isOff ? 'back on' : 'tightened'}, and that holds the spring. Put \`${isOff ? 'fit' : 'tighten'}: ${holder}\` before this step.`,
          related: [{ span: stepSpan(off), message: 'it came off here' }],
        });
      }
  },
};

/**
 * What holds a spring, came off while that was compressed, and is not on and tight again at a place. A spring may be let go
 * while that is off, if it is compressed again before that comes back. Where several are compressed, nobody can tell which of
 * them it holds.
 */
function notYetTight(place: PlanPlace, spring: string) {
  const { before, after, planned } = place;
  const { scope } = planned.participant;
  if (heldAt(place).size !== 1) return null;
  const since = before.findLastIndex(({ verb, objects }) => verb === 'compress' && objects.includes(spring));
  for (const [n, off] of before.entries()) {
    if (n < since || off.verb !== 'remove') continue;
    for (const holder of off.objects) {
      if (scope.parts.get(holder)?.hazard !== 'spring' && !scope.parts.get(spring)?.['held-by']?.includes(holder)) continue;
      const isOff = isOpenAt(place, holder);
      if (isOff) {
        const back = after.findIndex(({ verb, objects }) => verb === 'fit' && objects.includes(holder));
        if (did(after.slice(0, Math.max(back, 0)), 'compress', spring)) continue;
        return { holder, isOff, off };
      }
      const on = before.findLastIndex(({ verb, objects }) => verb === 'fit' && objects.includes(holder));
      const isTight = before
        .slice(on)
        .some(
          ({ verb, objects }) => verb === 'tighten' && objects.some((one) => jointsNamed(scope, one).some(({ part }) => part === holder)),
        );
      if (!isTight && jointsOfPart(scope, holder).length > 0) return { holder, isOff, off };
    }
  }
  return null;
}
