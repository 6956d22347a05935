import type { WorkDocument } from '../../library/document.js';
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
    const ids = context.works.map((work) => work.id);
    const needsOfOne = (id: string) => needsOf(library, id);
    if (!hasCircle(ids, needsOfOne)) return;
    const round = goingRound(ids, needsOfOne);
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

const needs = new WeakMap<WorkDocument, readonly string[]>();
const none: readonly string[] = [];

/** The ids of what a document needs. */
function needsOf(library: Library, id: string): readonly string[] {
  const document = workDocument(library, id);
  if (!document?.needs) return none;
  let ids = needs.get(document);
  if (!ids) {
    ids = document.needs.map((need) => wantedOf(need, library).id);
    needs.set(document, ids);
  }
  return ids;
}

/** Whether there is a circle at all: mostly there is none, and to see that takes one look at each document. */
function hasCircle(ids: readonly string[], needs: (id: string) => readonly string[]): boolean {
  const clear = new Set<string>();
  const above = new Set<string>();
  for (const start of ids) {
    if (needs(start).every((need) => clear.has(need) && need !== start)) {
      clear.add(start);
      continue;
    }
    const way = [{ id: start, next: 0 }];
    for (let at = way.at(-1); at; at = way.at(-1)) {
      if (at.next === 0) above.add(at.id);
      const need = clear.has(at.id) ? undefined : needs(at.id)[at.next++];
      if (need === undefined) {
        above.delete(at.id);
        clear.add(at.id);
        way.pop();
      } else if (above.has(need)) return true;
      else if (!clear.has(need)) way.push({ id: need, next: 0 });
    }
  }
  return false;
}

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
