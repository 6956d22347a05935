import { called } from '../../ledger/called.js';
import { once } from '../../once.js';
import type { Scope } from '../../library/scope.js';
import type { Fastener } from '../../schema/generated/types.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { wordsOf } from '../../library/names-in-words.js';
import type { PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';

const pinion = (before: string, after: string): string =>
  procedure(`fasteners: { pinion-nut: { name: pinion nut, count: 1, thread: M20x1.5, class: "10", drive: 30 AF, reuse: always, threads: oiled, stages: [{ ladder: { from: 180 N·m, step: 15 N·m, to: 240 N·m, until: drag } }] } }
measurements: { drag: { name: drag of the pinion, limit: 1.7..2.3 N·m, with: dial torque wrench, resolution: 0.1 N·m, outside: New sleeve. } }
steps:
  - loosen: pinion-nut
${before}  - tighten: pinion-nut # <-
${after}`);
const measure = '  - measure: drag\n';

export const rule: Rule = {
  name: 'torque/result-not-measured',
  severity: 'warning',
  finds: 'A joint is tightened until a reading is reached, or to an end play, and no step after that takes the reading.',
  why: 'Torque is only the way there; what counts is written nowhere, and nobody signs for it.',
  mend: 'Put the `measure:` after the tightening, with its limit.',
  bad: pinion(measure, ''),
  good: pinion('', measure).replace(' # <-', ''),
  check(context, tell) {
    for (const place of context.placesOf('tighten')) {
      const { plan, planned } = place;
      if (!hasResults(planned.participant.scope)) continue;
      for (const object of planned.objects) {
        const wanted = readingOf(place, object);
        if (!wanted || place.after.some(({ verb, objects }) => verb === 'measure' && objects.some((one) => wanted.includes(one)))) continue;
        const [first = ''] = wanted;
        tell({
          span: spanOfObject(plan, planned, object),
          about: object,
          message: `${called(planned, object)} is right when \`${first}\` is, and no step after this one measures that. Put \`measure: ${first}\` after it.`,
        });
      }
    }
  },
};

const known = new WeakMap<object, boolean>();

/** Whether any joint is right by a reading. Found out once for all documents that see the same groups. */
const hasResults = ({ things, fasteners }: Scope): boolean =>
  once(known, things, () => [...fasteners.values()].some((group) => group['end-play'] || group.stages?.some(({ ladder }) => ladder)));

/** The readings one of which says that a joint is right; null where none does. */
function readingOf({ planned, joints }: PlanPlace, object: string): readonly string[] | null {
  const { scope } = planned.participant;
  for (const { joint, group } of joints) {
    if (!group || (joint.group !== object && joint.part !== object)) continue;
    const until = group.stages?.findLast(({ ladder }) => ladder)?.ladder?.until;
    if (until !== undefined) return scope.measurements.has(until) ? [until] : null;
    if (group['end-play']) return endPlaysOf(scope, joint.group, group);
  }
  return null;
}

/** In the languages of the tool. */
const endPlay = /end ?play|endspiel|axialspiel|lagerspiel/;
const sides = /\b(left|right|links|rechts)\b/;

/** The declared end plays; of several those of the side that a group is on. */
function endPlaysOf(scope: Scope, id: string, { name }: Fastener): readonly string[] | null {
  const all = [...scope.measurements.keys()].filter((one) => endPlay.test(wordsOf(scope, one)));
  const side = sides.exec(`${id} ${name ?? ''}`.replaceAll('-', ' ').toLowerCase())?.[0];
  const own = side === undefined ? [] : all.filter((one) => sides.exec(wordsOf(scope, one))?.[0] === side);
  const wanted = own.length > 0 ? own : all;
  return wanted.length > 0 ? wanted : null;
}
