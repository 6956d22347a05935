import type { VerbName } from '../../ledger/verbs.js';
import { asList, type Scope } from '../../library/scope.js';
import { once } from '../../once.js';
import { called } from '../../ledger/called.js';
import { stepSpan } from '../context.js';
import { numberIn } from '../../quantity/quantity.js';
import { inWords } from '../../library/names-in-words.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did, isOpenAt } from '../steps.js';

const mount = 'parts: { mount: { name: engine mount, seal: used-again, carries: engine } }\n';

const none: readonly string[] = [];
const takingOff: readonly VerbName[] = ['remove', 'disconnect', 'move-aside'];

export const rule: Rule = {
  name: 'hazard/unsupported',
  severity: 'error',
  finds: 'What carries the engine, the gearbox, an axle or a tank comes off while nothing else carries it.',
  why: 'It drops: on a hand, on the hoses, on whoever lies beneath.',
  mend: 'Put `support:` before this step, and `unsupport:` behind the step that tightens it again.',
  bad: procedure(`${mount}steps:\n  - remove: mount # <-\n  - support: engine\nclose-up:\n  - fit: mount\n  - unsupport: engine\n`),
  good: procedure(`${mount}steps:\n  - support: engine\n  - remove: mount\nclose-up:\n  - fit: mount\n  - unsupport: engine\n`),
  check(context, tell) {
    for (const place of context.placesOf(takingOff)) {
      const { planned } = place;
      for (const object of planned.objects)
        for (const load of loadsOf(place, object))
          if (!isOpenAt(place, load))
            tell({
              span: stepSpan(planned),
              about: load,
              message: `${called(planned, object)} carries \`${load}\`, and nothing else does at this step. Put \`support: ${load}\` before it, with what holds it.`,
            });
    }
  },
};

/** Mounts by their names, in the languages of the tool; common practice, no source. */
const mounts: readonly (readonly [RegExp, string])[] = [
  [/\bengine (mount|mounting|bearer|support)\b|motorlager|motorhalter/, 'engine'],
  [/\b(gearbox|transmission) (mount|mounting|bearer|support)\b|getriebelager|getriebehalter/, 'gearbox'],
];

/** What something hangs in, by its name, and what is heavy when it is full; common practice, no source. */
const hangers = /\b(strap|hanger|cradle)s?\b|(spann|halte|trag)b(a|ä|ae)nd(er)?\b|tankband|aufh(ä|ae)ngung/;
const tanks = /\b(fuel|gas|diesel|petrol) tank$|(kraftstoff|diesel|benzin)(tank|beh(ä|ae)lter)$/;
/** What is dropped on nobody's hand without harm. */
const heavy = 10;

/** What hangs in a part by its name: what lies behind that, beneath the vehicle, and is heavy. */
const hangingIn = ({ parts }: Scope, hanger: string): readonly string[] =>
  [...parts].flatMap(([id, { name, behind, beneath, mass }]) =>
    beneath && asList(behind).includes(hanger) && ((mass && numberIn(mass, 'kg') >= heavy) || tanks.test(inWords(id, name).trim()))
      ? [id]
      : [],
  );

const byNames = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();

/** What parts carry by their names, where the profile says nothing of it. Found out once for all that see the same parts. */
const byName = (scope: Scope): ReadonlyMap<string, readonly string[]> =>
  once(byNames, scope.things, () => {
    const found = new Map<string, readonly string[]>();
    for (const [id, { name, carries }] of scope.parts) {
      if (carries) continue;
      const words = inWords(id, name);
      const load = mounts.find(([isSo]) => isSo.test(words))?.[1];
      const loads = load !== undefined ? [load] : hangers.test(words) ? hangingIn(scope, id) : none;
      if (loads.length > 0) found.set(id, loads);
    }
    return found;
  });

/** What a part carries, as the profile says, else by its name; by that only where nothing at all is supported. */
function loadsOf({ planned, before }: PlanPlace, object: string): readonly string[] {
  const { scope } = planned.participant;
  const said = scope.parts.get(object)?.carries;
  if (said) return asList(said);
  const loads = byName(scope).get(object);
  return loads === undefined || did(before, 'support') ? none : loads;
}
