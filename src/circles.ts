/**
 * Names that lead to each other, together, and every other alone; what a group leads to stands before it. (Strongly
 * connected components after Tarjan 1972, without recursion: chains may be long.)
 */
export function circlesIn(all: Iterable<string>, next: (name: string) => readonly string[]): string[][] {
  const found = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const isOpen = new Set<string>();
  const groups: string[][] = [];
  for (const root of all) {
    if (found.has(root)) continue;
    // Mostly all that it leads to is behind it already, and nothing leads back.
    if (next(root).every((one) => one !== root && found.has(one))) {
      found.set(root, found.size);
      groups.push([root]);
      continue;
    }
    const way: { readonly name: string; readonly todo: string[] }[] = [];
    const enter = (name: string) => {
      found.set(name, found.size);
      low.set(name, found.size - 1);
      open.push(name);
      isOpen.add(name);
      way.push({ name, todo: [...next(name)] });
    };
    const lower = (name: string, to: number) => void low.set(name, Math.min(low.get(name) ?? 0, to));
    enter(root);
    for (let at = way.at(-1); at; at = way.at(-1)) {
      const one = at.todo.pop();
      if (one === undefined) {
        way.pop();
        const above = way.at(-1);
        if (above) lower(above.name, low.get(at.name) ?? 0);
        if (low.get(at.name) === found.get(at.name)) {
          const group = open.splice(open.lastIndexOf(at.name));
          for (const name of group) isOpen.delete(name);
          groups.push(group);
        }
      } else if (!found.has(one)) enter(one);
      else if (isOpen.has(one)) lower(at.name, found.get(one) ?? 0);
    }
  }
  return groups;
}
