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
    const told = new Set<string>();
    const clear = new Map<string, boolean>();
    for (const work of context.works) {
      if (isClear(context.library, work.id, clear, new Set())) continue;
      const path = [work.id];
      const visit = (id: string): string[] | null => {
        for (const need of workDocument(context.library, id)?.needs ?? []) {
          const next = wantedOf(need, context.library).id;
          if (next === work.id) return [...path, next];
          if (path.includes(next)) continue;
          path.push(next);
          const found = visit(next);
          if (found) return found;
          path.pop();
        }
        return null;
      };
      const circle = visit(work.id);
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

/** The ids of what a document needs. */
function needsOf(library: Library, id: string): readonly string[] {
  const document = workDocument(library, id);
  if (!document?.needs) return [];
  let ids = needs.get(document);
  if (!ids) {
    ids = document.needs.map((need) => wantedOf(need, library).id);
    needs.set(document, ids);
  }
  return ids;
}

/** Whether all that a document needs, directly or through others, goes round in no circle. Each document is asked once. */
function isClear(library: Library, id: string, known: Map<string, boolean>, above: Set<string>): boolean {
  const before = known.get(id);
  if (before !== undefined) return before;
  if (above.has(id)) return false;
  above.add(id);
  const clear = needsOf(library, id).every((need) => isClear(library, need, known, above));
  above.delete(id);
  known.set(id, clear);
  return clear;
}
