import { once } from '../../once.js';
import type { PlanStep } from '../../plan/plan.js';
import { spanOfObject, stepSpan, stepWords } from '../context.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const belt = (opening: string, closing: string): string =>
  procedure(`parts: { timing-belt: { name: timing belt, role: belt } }
temporaries: { cam-pin: { name: camshaft pin, count: 1, due-before: [turn engine], while-fitted: timing-belt } }
steps:
${opening}close-up:
${closing}  - turn: engine
    says: Two turns in its running direction.
`);
const off = '  - remove: timing-belt\n';
const on = '  - fit: timing-belt\n    new: true\n    says: Clockwise from the crankshaft.\n';

export const rule: Rule = {
  name: 'order/belt-unpinned',
  severity: 'error',
  finds: 'A belt comes off before the pin that goes with it is in, or goes on when that is out again (`while-fitted:` names the belt).',
  why: 'Without belt and pin the shafts turn by themselves: the timing is gone, and valves may meet pistons.',
  mend: 'Put the pin in before the belt comes off, and take it out when the belt is on and tensioned.',
  bad: belt(`${off.replace('\n', ' # <-\n')}  - place: cam-pin\n`, `${on}  - clear: cam-pin\n`),
  good: belt(`  - place: cam-pin\n${off}`, `${on}  - clear: cam-pin\n`),
  check(context, tell) {
    for (const place of context.placesOf('remove'))
      for (const belt of place.planned.objects)
        for (const pin of pinsOf(place.planned, belt)) {
          const later = isIn(place, pin)
            ? undefined
            : beforeItIsBack(place, belt).find((step) => step.verb === 'place' && step.objects.includes(pin));
          if (later)
            tell({
              span: spanOfObject(place.plan, place.planned, belt),
              about: belt,
              message: `\`${belt}\` comes off here before \`${pin}\` is in: the shafts can turn. Put ${stepWords(later)} before this step.`,
              related: [{ span: stepSpan(later), message: 'it goes in only here' }],
            });
        }
    for (const place of context.placesOf('fit'))
      for (const belt of place.planned.objects)
        for (const pin of pinsOf(place.planned, belt)) {
          const out = isIn(place, pin)
            ? undefined
            : sinceItWasOff(place, belt).findLast((step) => step.verb === 'clear' && step.objects.includes(pin));
          if (out)
            tell({
              span: spanOfObject(place.plan, place.planned, belt),
              about: belt,
              message: `\`${belt}\` goes on here, and \`${pin}\` is out already: nothing says where the shafts stand. Put ${stepWords(out)} after this step.`,
              related: [{ span: stepSpan(out), message: 'it comes out here' }],
            });
        }
  },
};

const known = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();
const none: readonly string[] = [];

/** The pins that go with a belt. Found out once for all documents that see the same things. */
const pinsOf = ({ participant: { scope } }: PlanStep, belt: string): readonly string[] =>
  once(known, scope.things, () => {
    const byBelt = new Map<string, string[]>();
    for (const [id, { 'while-fitted': on }] of scope.temporaries)
      if (on !== undefined && scope.parts.get(on)?.role === 'belt') once(byBelt, on, () => []).push(id);
    return byBelt;
  }).get(belt) ?? none;

const isIn = ({ before }: PlanPlace, pin: string): boolean =>
  before.findLast((step) => (step.verb === 'place' || step.verb === 'clear') && step.objects.includes(pin))?.verb === 'place';

/** The steps while a belt that comes off is off. */
function beforeItIsBack({ after }: PlanPlace, belt: string): readonly PlanStep[] {
  const back = after.findIndex((step) => step.verb === 'fit' && step.objects.includes(belt));
  return back < 0 ? after : after.slice(0, back);
}

/** The steps since a belt that goes on came off. */
function sinceItWasOff({ before }: PlanPlace, belt: string): readonly PlanStep[] {
  const off = before.findLastIndex((step) => step.verb === 'remove' && step.objects.includes(belt));
  return off < 0 ? [] : before.slice(off);
}
