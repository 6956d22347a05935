import { neededId } from '../library/card.js';
import type { Library } from '../library/library.js';
import type { Member } from './cast.js';
import { neededBy } from './needs.js';

/** The order in which those who take part open, where it is another than that in which they are needed. */
export const inOpeningOrder = (members: readonly Member[], library: Library): readonly Member[] =>
  confirmingFirst(runningFirst(members, library));

/**
 * What has the engine run or the vehicle driven while it opens (oil that is drained warm) comes before all that opens something
 * and that it does not need: after that the battery may be off, and what was measured cold would be warm.
 */
function runningFirst(members: readonly Member[], library: Library): readonly Member[] {
  const running = members.flatMap(({ runs, participant }) => (runs ? [participant.document.id] : []));
  if (running.length === 0) return members;
  const first = new Set([...running, ...neededBy(library, running)]);
  const last = members.findLastIndex(({ runs }) => runs);
  for (const { participant, steps } of members.slice(0, last)) {
    const { id, needs = [] } = participant.document;
    // What only looks and reads stays where it is; what is measured is meant as it is after that.
    const looks = steps.steps.every(({ does, verb }) => does.opens === undefined && verb !== 'measure');
    if (looks && needs.every((need) => first.has(neededId(need)))) first.add(id);
  }
  const isFirst = ({ participant }: Member): boolean => first.has(participant.document.id);
  return [...members.filter(isFirst), ...members.filter((one) => !isFirst(one))];
}

/** Which vehicle it is, is confirmed before anything is done to it, where that needs nothing else. */
function confirmingFirst(members: readonly Member[]): readonly Member[] {
  const isFirst = ({ participant, steps: { steps } }: Member): boolean =>
    (participant.document.needs ?? []).length === 0 &&
    steps.some(({ verb, objects }) => verb === 'confirm' && objects.includes('vehicle')) &&
    steps.every(({ does, section }) => section === 'preparation' && does.opens === undefined);
  const at = members.findIndex(isFirst);
  const first = members[at];
  return first && at > 0 ? [first, ...members.slice(0, at), ...members.slice(at + 1)] : members;
}
