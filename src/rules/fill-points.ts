import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { Fluid } from '../schema/generated/types.js';

const known = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();
const none: readonly string[] = [];

/** What a fluid is filled in through. */
export const fillPointsOf = (scope: Scope, fluid: string): readonly string[] =>
  once(known, scope.things, () => {
    const byFluid = new Map<string, string[]>();
    for (const [id, part] of scope.parts)
      if (part.role === 'fill-point') for (const one of asList(part.circuit)) once(byFluid, one, () => []).push(id);
    return byFluid;
  }).get(fluid) ?? none;

/** Those of them that a wrench tightens: a cap lifts by hand, and has a dipstick or marks below it. */
export const fillPlugsOf = (scope: Scope, fluid: string): readonly string[] =>
  fillPointsOf(scope, fluid).filter((id) => scope.parts.get(id)?.fasteners !== undefined);

/** Work opens its circuit, and neither changes it nor fills it anew, as fuel: its profile says no figure of either. */
export const isOnlyOpened = (fluid: Fluid): boolean => fluid.drains === undefined && fluid['dry-fill'] === undefined;
