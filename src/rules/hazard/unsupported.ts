import type { VerbName } from '../../ledger/verbs.js';
import { asList, type Scope } from '../../library/scope.js';
import { once } from '../../once.js';
import { called } from '../../ledger/called.js';
import { stepSpan } from '../context.js';
import { inWords } from '../../library/names-in-words.js';
import { procedure } from '../examples.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { did, isOpenAt } from '../steps.js';

const mount = 'parts: { mount: { name: engine mount, seal: used-again, carries: engine } }\n';

const takingOff: readonly VerbName[] = ['remove', 'disconnect', 'move-aside'];

export const rule: Rule = {
  name: 'hazard/unsupported',
  severity: 'error',
  finds: 'What carries the engine, the gearbox or an axle comes off while nothing else carries it.',
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

const byNames = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();

/** What parts carry by their names, where the profile says nothing of it. Found out once for all that see the same parts. */
const byName = ({ parts, things }: Scope): ReadonlyMap<string, readonly string[]> =>
  once(byNames, things, () => {
    const found = new Map<string, readonly string[]>();
    for (const [id, { name, carries }] of parts) {
      if (carries) continue;
      const words = inWords(id, name);
      const load = mounts.find(([isSo]) => isSo.test(words))?.[1];
      if (load !== undefined) found.set(id, [load]);
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

const none: readonly string[] = [];
