import type { Choice, Measurement } from '../schema/generated/types.js';
import type { Scope } from '../library/scope.js';
import type { RuleContext } from './context.js';

/** A choice that some step makes, and what it is made by. */
export interface Choosing {
  readonly id: string;
  readonly choice: Choice;
  /** The measurement that decides; undefined where nobody declares it. */
  readonly from: Measurement | undefined;
  readonly measurements: Scope['measurements'];
}

/** The choices that the plans make, in the order of work. */
export const choicesMade = (context: RuleContext): readonly Choosing[] =>
  context.placesOf('choose').flatMap(({ planned }) =>
    planned.objects.flatMap((id): Choosing[] => {
      const { choices, measurements } = planned.participant.scope;
      const choice = choices.get(id);
      return choice ? [{ id, choice, from: measurements.get(choice.from), measurements }] : [];
    }),
  );
