import type { Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { Part } from '../schema/generated/types.js';

/** What covers or holds a part. */
export const inTheWayOf = (part: Part | undefined): readonly string[] => [...(part?.behind ?? []), ...(part?.['held-by'] ?? [])];

const behindEach = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();

/** What lies behind a part, or is held by it, other than itself. */
export const behindIt = (scope: Scope, cover: string): readonly string[] =>
  once(behindEach, scope.things, () => {
    const behind = new Map<string, string[]>();
    for (const [id, part] of scope.parts) for (const one of new Set(inTheWayOf(part))) if (one !== id) once(behind, one, () => []).push(id);
    return behind;
  }).get(cover) ?? none;

const none: readonly string[] = [];
