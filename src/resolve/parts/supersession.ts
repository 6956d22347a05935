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
  const next = new Map<string, Set<string>>();
  for (const offer of offers) {
    for (const old of offer.supersedes) {
      if (known.has(old) && old !== offer.number) next.set(old, (next.get(old) ?? new Set()).add(offer.number));
    }
  }
  const reach = new Map([...known].map((number) => [number, reachable(number, next)]));
  const mutual = (a: string, b: string) => (reach.get(a)?.has(b) ?? false) && (reach.get(b)?.has(a) ?? false);
  const old = new Map<string, string>();
  const circles: string[][] = [];
  const inCircle = new Set<string>();
  for (const number of known) {
    const newer = [...(reach.get(number) ?? [])].filter((other) => !mutual(number, other));
    const current = newer.filter((other) => [...(reach.get(other) ?? [])].every((more) => mutual(other, more))).sort();
    if (current[0]) old.set(number, current[0]);
    const same = [...known].filter((other) => other !== number && mutual(number, other));
    if (same.length > 0 && !inCircle.has(number)) {
      const circle = [number, ...same].sort();
      for (const one of circle) inCircle.add(one);
      circles.push(circle);
    }
  }
  return { old, circles };
}

function reachable(from: string, next: ReadonlyMap<string, ReadonlySet<string>>): Set<string> {
  const seen = new Set<string>();
  const todo = [...(next.get(from) ?? [])];
  for (let one = todo.pop(); one !== undefined; one = todo.pop()) {
    if (seen.has(one)) continue;
    seen.add(one);
    todo.push(...(next.get(one) ?? []));
  }
  seen.delete(from);
  return seen;
}
