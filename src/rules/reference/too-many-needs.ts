import { neededId } from '../../library/card.js';
import { mostMembers, neededBy } from '../../plan/needs.js';
import { inEachWay } from '../../plan/merge.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

const chain = (length: number): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Array.from({ length }, (_, n) => [
      `procedures/needed-${n}.yaml`,
      `kind: preparation\nid: needed-${n}\nname: Needed ${n}\n${n + 1 < length ? `needs: [needed-${n + 1}]\n` : ''}steps:\n  - inspect: leaks\n`,
    ]),
  );

const top = 'kind: preparation\nid: top\nname: Top\nneeds: [needed-0] # <-\nsteps:\n  - inspect: leaks\n';

export const rule: Rule = {
  name: 'reference/too-many-needs',
  severity: 'error',
  leavesGap: 'plan',
  finds: `Work that stands on more than ${mostMembers - 1} others.`,
  why: 'No way into a vehicle is so long; one of them is needed by mistake, and nobody could follow the sheet.',
  mend: 'Take out the need that does not belong, or write the way in as fewer preparations.',
  bad: { ...chain(mostMembers), 'procedures/top.yaml': top },
  good: { ...chain(mostMembers - 1), 'procedures/top.yaml': top.replace(' # <-', '') },
  check(context, tell) {
    const { library } = context;
    const tooMany = (ids: readonly string[]) => new Set([...ids, ...neededBy(library, ids)]).size > mostMembers;
    const message = `More than ${mostMembers} documents take part in this, one needing the other. Is one needed by mistake?`;
    // What needs one of which too much is needed has the fault from there.
    const isHere = (ids: readonly string[], needs: readonly string[]) => tooMany(ids) && !needs.some((id) => tooMany([id]));
    for (const work of context.works)
      if (work.needs && isHere([work.id], work.needs.map(neededId))) tell({ span: spanOf(work, 'needs', 'key'), message });
    for (const job of context.jobs.flatMap(inEachWay)) {
      const needs = job.work.map(neededId);
      if (isHere(needs, needs)) tell({ span: spanOf(job, 'work', 'key'), message });
    }
  },
};
