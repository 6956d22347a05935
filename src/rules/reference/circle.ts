import { workDocument } from '../../library/library.js';
import { circlesIn } from '../../circles.js';
import { spanOf } from '../../schema/origin.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/circle',
  severity: 'error',
  leavesGap: 'plan',
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
  compare({ library }, tell) {
    // Who is in a circle is needed by somebody; most procedures are not.
    const needed = new Set<string>();
    for (const { card } of library.standing) for (const need of card?.needs ?? none) needed.add(need);
    const known = new Map<string, readonly string[]>();
    for (const { card } of library.standing)
      if (card?.needs && needed.has(card.id) && (card.kind === 'procedure' || !known.has(card.id))) known.set(card.id, card.needs);
    const needs = (id: string) => known.get(id) ?? none;
    const inOrder = new Map([...known.keys()].map((id, n) => [id, n]));
    const placeOf = (id: string) => inOrder.get(id) ?? 0;
    for (const group of circlesIn(inOrder.keys(), needs)) {
      const [start = ''] = [...group].sort((a, b) => placeOf(a) - placeOf(b));
      if (group.length === 1 && !needs(start).includes(start)) continue;
      const work = workDocument(library, start);
      if (!work) continue;
      const members = new Set(group);
      const circle = shortestCircle(start, (id) => needs(id).filter((need) => members.has(need)));
      tell({
        span: spanOf(work, 'needs', 'key'),
        message: `These need each other in a circle: ${written(circle)}. Take one of the needs out.`,
      });
    }
  },
};

const none: readonly string[] = [];

/** A long circle is written by how it begins and how it ends. */
const written = (circle: readonly string[]): string => {
  const ends = circle.length > 12 ? [...circle.slice(0, 5), `${circle.length - 8} more`, ...circle.slice(-3)] : circle;
  return ends.join(' → ');
};

/** The way from a document back to itself over the fewest others; there is one. */
function shortestCircle(start: string, needs: (id: string) => readonly string[]): string[] {
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
  return [start];
}
