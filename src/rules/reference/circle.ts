import { type Library, workDocument } from '../../library/library.js';
import { wantedOf } from '../../plan/cast.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/circle',
  severity: 'error',
  whole: true,
  finds: 'Preparations that need each other in a circle.',
  why: 'None of them can be done first.',
  mend: 'Take one of the needs out.',
  bad: {
    'procedures/a.yaml': 'kind: preparation\nid: a\nname: A\nneeds: [b] # <-\nsteps:\n  - inspect: leaks\n',
    'procedures/b.yaml': 'kind: preparation\nid: b\nname: B\nneeds: [a]\nsteps:\n  - inspect: leaks\n',
  },
  good: {
    'procedures/a.yaml': 'kind: preparation\nid: a\nname: A\nneeds: [b]\nsteps:\n  - inspect: leaks\n',
    'procedures/b.yaml': 'kind: preparation\nid: b\nname: B\nsteps:\n  - inspect: leaks\n',
  },
  *check(context) {
    const { library } = context;
    const round = goingRound(
      context.works.map((work) => work.id),
      (id) => needsOf(library, id),
    );
    const told = new Set<string>();
    for (const work of context.works) {
      if (!round.has(work.id) || told.has(work.id)) continue;
      const circle = shortestCircle(work.id, (id) => needsOf(library, id).filter((need) => round.has(need)));
      if (!circle || circle.some((id) => told.has(id))) continue;
      for (const id of circle) told.add(id);
      yield {
        span: spanOf(work, 'needs', 'key'),
        message: `These need each other in a circle: ${circle.join(' → ')}. Take one of the needs out.`,
      };
    }
  },
};

/** The ids of what a document needs. */
const needsOf = (library: Library, id: string): readonly string[] =>
  workDocument(library, id)?.needs?.map((need) => wantedOf(need, library).id) ?? [];

/** What is left when all that needs nothing, and then all that nothing needs, is taken away again and again: circles, and what lies between them. */
function goingRound(ids: readonly string[], needs: (id: string) => readonly string[]): ReadonlySet<string> {
  const left = new Set(ids);
  const below = new Map(ids.map((id) => [id, [...new Set(needs(id))].filter((need) => left.has(need))]));
  const above = new Map<string, string[]>(ids.map((id) => [id, []]));
  for (const [id, all] of below) for (const need of all) above.get(need)?.push(id);
  for (const [down, up] of [
    [below, above],
    [above, below],
  ] as const) {
    const count = new Map(ids.map((id) => [id, (down.get(id) ?? []).filter((one) => left.has(one)).length]));
    const free = [...left].filter((id) => count.get(id) === 0);
    for (let id = free.pop(); id !== undefined; id = free.pop()) {
      left.delete(id);
      for (const one of up.get(id) ?? []) {
        const rest = (count.get(one) ?? 0) - 1;
        count.set(one, rest);
        if (rest === 0 && left.has(one)) free.push(one);
      }
    }
  }
  return left;
}

/** The way from a document back to itself over the fewest others. */
function shortestCircle(start: string, needs: (id: string) => readonly string[]): string[] | null {
  const from = new Map<string, string>();
  const open = [start];
  for (const id of open)
    for (const need of needs(id)) {
      if (need === start) {
        const way = [start];
        for (let at: string | undefined = id; at !== undefined && at !== start; at = from.get(at)) way.unshift(at);
        return [start, ...way];
      }
      if (from.has(need)) continue;
      from.set(need, id);
      open.push(need);
    }
  return null;
}
