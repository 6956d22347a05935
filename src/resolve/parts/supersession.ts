export interface Numbered {
  readonly number: string;
  readonly supersedes: readonly string[];
}

export interface Supersession {
  /** Numbers that are no longer bought, each with the current number at the end of its chain. */
  readonly old: ReadonlyMap<string, string>;
  /** Numbers that supersede each other: none of them is older than the others. */
  readonly circles: readonly (readonly string[])[];
}

/**
 * Follows superseded part numbers to the current ones, however long the chain is. Numbers in a circle stay as they are
 * among each other, and give way together to a number outside that supersedes one of them.
 */
export function supersession(offers: readonly Numbered[]): Supersession {
  const known = new Set(offers.map((offer) => offer.number));
  const next = new Map<string, string[]>();
  for (const { number, supersedes } of offers)
    for (const old of new Set(supersedes)) {
      if (!known.has(old) || old === number) continue;
      const newer = next.get(old);
      if (newer) newer.push(number);
      else next.set(old, [number]);
    }
  const groups = circlesIn(known, (number) => next.get(number) ?? []);
  const groupOf = new Map(groups.flatMap((group) => group.map((number) => [number, group] as const)));
  /** What each group gives way to; those that come after a group are already known. */
  const current = new Map<readonly string[], string | null>();
  const old = new Map<string, string>();
  for (const group of groups) {
    const after = new Set(group.flatMap((number) => next.get(number) ?? []).map((number) => groupOf.get(number) ?? group));
    after.delete(group);
    const ends = [...after].map((one) => current.get(one) ?? [...one].sort()[0] ?? '').sort();
    current.set(group, ends[0] ?? null);
    if (ends[0] !== undefined) for (const number of group) old.set(number, ends[0]);
  }
  const circles = groups.filter((group) => group.length > 1).map((group) => [...group].sort());
  const inOrder = new Map([...known].map((number, n) => [number, n]));
  const firstOf = (circle: readonly string[]) => Math.min(...circle.map((number) => inOrder.get(number) ?? 0));
  return { old, circles: circles.sort((a, b) => firstOf(a) - firstOf(b)) };
}

/**
 * Numbers that lead to each other, together, and every other alone; what a group leads to stands before it. (Strongly
 * connected components after Tarjan 1972, without recursion: chains may be long.)
 */
function circlesIn(all: Iterable<string>, next: (number: string) => readonly string[]): string[][] {
  const found = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const isOpen = new Set<string>();
  const groups: string[][] = [];
  for (const root of all) {
    if (found.has(root)) continue;
    const way: { readonly number: string; readonly todo: string[] }[] = [];
    const enter = (number: string) => {
      found.set(number, found.size);
      low.set(number, found.size - 1);
      open.push(number);
      isOpen.add(number);
      way.push({ number, todo: [...next(number)] });
    };
    const lower = (number: string, to: number) => void low.set(number, Math.min(low.get(number) ?? 0, to));
    enter(root);
    for (let at = way.at(-1); at; at = way.at(-1)) {
      const one = at.todo.pop();
      if (one === undefined) {
        way.pop();
        const above = way.at(-1);
        if (above) lower(above.number, low.get(at.number) ?? 0);
        if (low.get(at.number) === found.get(at.number)) {
          const group = open.splice(open.lastIndexOf(at.number));
          for (const number of group) isOpen.delete(number);
          groups.push(group);
        }
      } else if (!found.has(one)) enter(one);
      else if (isOpen.has(one)) lower(at.number, found.get(one) ?? 0);
    }
  }
  return groups;
}
