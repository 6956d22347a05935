import type { Scope } from '../library/scope.js';
import type { RuleContext } from './context.js';
import { partsWhere } from './parts-where.js';
import { firstOfEach, type PlanPlace } from './places.js';
import { wordsOf } from './steps.js';

/** What must be set or measured again after certain parts were off, by their names. */
export interface SetAgain {
  readonly parts: (scope: Scope) => ReadonlySet<string>;
  /** Whether a name, or what a step says, is of what sets them. */
  readonly isOf: (words: string) => boolean;
}

/** Parts by their names; in the languages of the tool. */
export const partsCalled = (names: RegExp): SetAgain['parts'] => partsWhere(({ name }, id) => names.test(`${id} ${name ?? ''}`));

const takingOff = ['remove', 'renew'] as const;
const setting = /^(measure|adjust|check|test|inspect|send|reset)$/;

/** The first of those parts in each plan that is off, where no step after that sets or measures it. */
export function notSetAgain(
  context: RuleContext,
  wanted: SetAgain,
): readonly { readonly place: PlanPlace; readonly kind: string; readonly off: string }[] {
  const found: { readonly place: PlanPlace; readonly kind: string; readonly off: string }[] = [];
  for (const place of context.placesOf(takingOff)) {
    const parts = wanted.parts(place.planned.participant.scope);
    if (parts.size === 0) continue;
    for (const off of place.planned.objects) if (parts.has(off) && !isSetAfter(place, wanted)) found.push({ place, kind: '', off });
  }
  return firstOfEach(found);
}

const isSetAfter = ({ after }: PlanPlace, { isOf }: SetAgain): boolean =>
  after.some(
    ({ verb, objects, step, participant: { scope } }) =>
      setting.test(verb) && (objects.some((object) => isOf(wordsOf(scope, object))) || isOf(`${step.says ?? ''} ${step.for ?? ''}`)),
  );
