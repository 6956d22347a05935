/** What belongs to a key: made when it is asked for the first time, and kept. */
export function once<K, V>(known: { get(key: K): V | undefined; set(key: K, value: V): unknown }, key: K, make: () => V): V {
  let value = known.get(key);
  if (value === undefined) {
    value = make();
    known.set(key, value);
  }
  return value;
}

/**
 * A memory for `once` that stays small: it holds what was asked for last, at least half of `most`. What is asked for again
 * and again stays, however much else comes and goes.
 */
export class Few<K, V> {
  private now = new Map<K, V>();
  private before = new Map<K, V>();
  private readonly half: number;

  constructor(most: number) {
    this.half = most / 2;
  }

  get(key: K): V | undefined {
    const value = this.now.get(key);
    if (value !== undefined) return value;
    const old = this.before.get(key);
    if (old !== undefined) this.set(key, old);
    return old;
  }

  set(key: K, value: V): void {
    if (this.now.size >= this.half) {
      this.before = this.now;
      this.now = new Map();
    }
    this.now.set(key, value);
  }
}
