import type { WorkDocument } from '../library/document.js';
import { neededId } from '../library/card.js';
import { type Library, workDocument } from '../library/library.js';
import { asList } from '../library/scope.js';
import type { Needs } from '../schema/generated/types.js';

export interface Wanted {
  readonly id: string;
  readonly params: Readonly<Record<string, readonly string[]>>;
}

/** `wheels-off: [front-right]` gives the one parameter of a preparation; the long form names each. */
export function wantedOf(need: Needs[number], library: Library): Wanted {
  if (typeof need === 'string') return { id: need, params: {} };
  const id = neededId(need);
  const value = need[id] ?? '';
  if (typeof value === 'string' || Array.isArray(value)) {
    const document = workDocument(library, id);
    const only = document?.kind === 'preparation' ? Object.keys(document.params ?? {})[0] : undefined;
    return { id, params: { [only ?? 'values']: asList(value) } };
  }
  return { id, params: Object.fromEntries(Object.entries(value).map(([name, one]) => [name, asList(one)])) };
}

export interface Gathered {
  readonly document: WorkDocument;
  readonly params: Map<string, Set<string>>;
}

/** Documents in the order in which they open: what is needed comes before what needs it. */
export class Gatherer {
  readonly found = new Map<string, Gathered>();
  incomplete = false;
  private readonly visiting = new Set<string>();

  constructor(private readonly library: Library) {}

  need(wanted: Wanted): void {
    const document = workDocument(this.library, wanted.id);
    const full = this.found.size + this.visiting.size >= mostMembers && !this.found.has(wanted.id);
    if (!document || full || this.visiting.has(wanted.id)) {
      this.incomplete = true;
      return;
    }
    if (!this.found.has(wanted.id)) {
      this.visiting.add(wanted.id);
      for (const need of document.needs ?? []) this.need(wantedOf(need, this.library));
      this.visiting.delete(wanted.id);
      this.found.set(wanted.id, { document, params: new Map() });
    }
    const gathered = this.found.get(wanted.id);
    for (const [name, values] of Object.entries(wanted.params)) {
      const known = gathered?.params.get(name) ?? new Set<string>();
      for (const value of values) known.add(value);
      gathered?.params.set(name, known);
    }
  }
}

/** More documents than these take part in no job: a library where one stands on more is refused, and looked at no further. */
export const mostMembers = 100;

/** What some documents stand on, directly and through others; once there are too many, no more are looked for. */
export function neededBy(library: Library, ids: readonly string[]): ReadonlySet<string> {
  const needed = new Set<string>();
  const open = [...ids].reverse();
  for (let id = open.pop(); id !== undefined && needed.size <= mostMembers; id = open.pop()) {
    for (const need of workDocument(library, id)?.needs ?? []) {
      const wanted = wantedOf(need, library);
      if (needed.has(wanted.id)) continue;
      needed.add(wanted.id);
      open.push(wanted.id);
    }
  }
  return needed;
}
