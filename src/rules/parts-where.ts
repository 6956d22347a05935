import type { Scope } from '../library/scope.js';
import type { PlanStep } from '../plan/plan.js';
import type { Part } from '../schema/generated/types.js';

/** The first object of a step that is one of such parts. */
export function firstObjectOf({ objects, participant: { scope } }: PlanStep, those: PartsOf): string | undefined {
  const parts = those(scope);
  return parts.size > 0 ? objects.find((object) => parts.has(object)) : undefined;
}

/** Which parts of a scope are such. */
export type PartsOf = (scope: Scope) => ReadonlySet<string>;

/**
 * The parts of a scope of which something holds, found out once for all documents that see the same parts. In most scopes
 * there are none, or few: a rule that asks this first passes over most steps.
 * @param is whether it holds, by the part, its name and the scope; of the scope only what the vehicle and its own parts, temporaries and fasteners say
 */
export function partsWhere(is: (part: Part, id: string, scope: Scope) => boolean): PartsOf {
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
