import type { Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { RuleContext } from './context.js';
import { firstOfEach, type PlanPlace } from './places.js';

/** What must be set or measured again after certain parts were off, by their names. */
export interface SetAgain {
  /** Names of the parts; in the languages of the tool. */
  readonly parts: RegExp;
  /** Whether a name, or what a step says, is of what sets them. */
  readonly isOf: (words: string) => boolean;
}

const takingOff = ['remove', 'renew'] as const;
const setting = /^(measure|adjust|check|test|inspect|send|reset)$/;

const known = new WeakMap<SetAgain, WeakMap<object, ReadonlySet<string>>>();

/** Those parts of a profile, found out once. */
const partsIn = ({ things, parts }: Scope, wanted: SetAgain): ReadonlySet<string> =>
  once(
    once(known, wanted, () => new WeakMap()),
    things,
    () => new Set([...parts].flatMap(([id, { name }]) => (wanted.parts.test(`${id} ${name ?? ''}`) ? [id] : []))),
  );

/** The first of those parts in each plan that is off, where no step after that sets or measures it. */
export function notSetAgain(
  context: RuleContext,
  wanted: SetAgain,
): readonly { readonly place: PlanPlace; readonly kind: string; readonly off: string }[] {
  const found: { readonly place: PlanPlace; readonly kind: string; readonly off: string }[] = [];
  for (const place of context.placesOf(takingOff)) {
    const parts = partsIn(place.planned.participant.scope, wanted);
    if (parts.size === 0) continue;
    for (const off of place.planned.objects) if (parts.has(off) && !isSetAfter(place, wanted)) found.push({ place, kind: '', off });
  }
  return firstOfEach(found);
}

const isSetAfter = ({ after }: PlanPlace, { isOf }: SetAgain): boolean =>
  after.some(
    ({ verb, objects, step, participant: { scope } }) =>
      setting.test(verb) &&
      (objects.some((object) => isOf(`${object} ${scope.measurements.get(object)?.name ?? ''}`)) ||
        isOf(`${step.says ?? ''} ${step.for ?? ''}`)),
  );
