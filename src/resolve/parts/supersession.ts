import { circlesIn } from '../../circles.js';

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
