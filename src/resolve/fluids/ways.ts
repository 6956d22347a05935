/** A way to drain a circuit: the openings that are used together. */
interface Way {
  readonly through: readonly string[];
}

/** The way that the opened openings make: of those of the profile that are wholly open, the one with the most openings. */
export function wayThrough<W extends Way>(ways: readonly W[] = [], opened: ReadonlySet<string>): W | undefined {
  let best: W | undefined;
  for (const way of ways)
    if (way.through.length > (best?.through.length ?? 0) && way.through.every((opening) => opened.has(opening))) best = way;
  return best;
}
