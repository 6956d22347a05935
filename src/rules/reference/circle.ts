import type { WorkDocument } from '../../library/document.js';
import { type Library, workDocument } from '../../library/library.js';
import { circlesIn } from '../../circles.js';
import { once } from '../../once.js';
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
    const needs = (id: string) => needsOf(library, workDocument(library, id));
    // Who is in a circle is needed by somebody; most procedures are not.
    const needed = new Set<string>();
    for (const { needs } of context.works)
      for (const need of needs ?? []) needed.add(typeof need === 'string' ? need : wantedOf(need, library).id);
    const inOrder = new Map(context.works.filter((work) => needed.has(work.id)).map((work, n) => [work.id, n]));
    const placeOf = (id: string) => inOrder.get(id) ?? 0;
    for (const group of circlesIn(inOrder.keys(), needs)) {
      const [start = ''] = [...group].sort((a, b) => placeOf(a) - placeOf(b));
      const work = workDocument(library, start);
      if (!work || (group.length === 1 && !needs(start).includes(start))) continue;
      const members = new Set(group);
      const circle = shortestCircle(start, (id) => needs(id).filter((need) => members.has(need)));
      yield {
        span: spanOf(work, 'needs', 'key'),
        message: `These need each other in a circle: ${circle.join(' → ')}. Take one of the needs out.`,
      };
    }
  },
};

const known = new WeakMap<WorkDocument, readonly string[]>();
const none: readonly string[] = [];

/** The ids of what a document needs. */
function needsOf(library: Library, document: WorkDocument | undefined): readonly string[] {
  if (!document?.needs) return none;
  return once(known, document, () => (document.needs ?? []).map((need) => wantedOf(need, library).id));
}

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
