/** What belongs to a key: made when it is asked for the first time, and kept. */
export function once<K, V>(known: { get(key: K): V | undefined; set(key: K, value: V): unknown }, key: K, make: () => V): V {
  let value = known.get(key);
  if (value === undefined) {
    value = make();
    known.set(key, value);
  }
  return value;
}

/** A memory for `once` that stays small: when it is full, it forgets all and begins anew. */
export class Few<K, V> extends Map<K, V> {
  constructor(private readonly most: number) {
    super();
  }

  override set(key: K, value: V): this {
    if (this.size >= this.most) this.clear();
    return super.set(key, value);
  }
}
