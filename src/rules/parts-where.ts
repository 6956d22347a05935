import type { Scope } from '../library/scope.js';
import type { Part } from '../schema/generated/types.js';

/**
 * The parts of a scope of which something holds, found out once for all documents that see the same parts. In most scopes
 * there are none, or few: a rule that asks this first passes over most steps.
 * @param is whether it holds, by the part, its name and the scope; of the scope only what the vehicle and its own parts, temporaries and fasteners say
 */
export function partsWhere(is: (part: Part, id: string, scope: Scope) => boolean): (scope: Scope) => ReadonlySet<string> {
  const known = new WeakMap<object, ReadonlySet<string>>();
  return (scope) => {
    let found = known.get(scope.things);
    if (!found) {
      const all = new Set<string>();
      for (const [id, part] of scope.parts) if (is(part, id, scope)) all.add(id);
      found = all;
      known.set(scope.things, found);
    }
    return found;
  };
}
