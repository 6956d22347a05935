import { goesOnNew } from '../plan/plan.js';
import type { RuleContext } from './context.js';
import { inWords, wordsOf } from '../library/names-in-words.js';
import { type PartsOf, partsWhere } from './parts-where.js';
import { type FoundAt, firstFound, type PlanPlace } from './places.js';

/** What must be set or measured again after certain parts were off, by their names. */
export interface SetAgain {
  readonly parts: PartsOf;
  /** Whether a name, or what a step says, is of what sets them. */
  readonly isOf: (words: string) => boolean;
  /** Only where a new one goes on: the one that was there is known to the vehicle. */
  readonly whereNew?: true;
}

/** Parts by their names, in small letters and with spaces between words; in the languages of the tool. */
export const partsCalled = (names: RegExp): SetAgain['parts'] => partsWhere(({ name }, id) => names.test(inWords(id, name)));

const takingOff = ['remove', 'renew'] as const;
const setting = /^(measure|adjust|check|test|inspect|send|reset)$/;

/** The first of those parts in each plan that is off, where no step after that sets or measures it. */
export const notSetAgain = (context: RuleContext, { parts, isOf, whereNew }: SetAgain): readonly FoundAt[] =>
  firstFound(
    context.placesOf(takingOff),
    (place, object) =>
      parts(place.planned.participant.scope).has(object) && !(whereNew && !comesBackNew(place, object)) && !isSetAfter(place, isOf),
  );

const comesBackNew = ({ plan, planned, after }: PlanPlace, object: string): boolean =>
  [planned, ...after].some(
    (step) => (step.verb === 'fit' || step.verb === 'renew') && step.objects.includes(object) && goesOnNew(plan, step, object),
  );

const isSetAfter = ({ after }: PlanPlace, isOf: SetAgain['isOf']): boolean =>
  after.some(
    ({ verb, objects, step, participant: { scope } }) =>
      setting.test(verb) && (objects.some((object) => isOf(wordsOf(scope, object))) || isOf(`${step.says ?? ''} ${step.for ?? ''}`)),
  );
