import { cataloguesFor } from '../library/library.js';
import type { Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { PartsDocument } from '../schema/generated/types.js';
import { staysIn } from '../resolve/measure/judge.js';
import { type JobContext, nameOf } from './context.js';

const named = new WeakMap<readonly PartsDocument[], ReadonlyMap<string, string>>();

/** What catalogues call their items, by id. */
export const itemNames = (catalogues: readonly PartsDocument[]): ReadonlyMap<string, string> =>
  once(
    named,
    catalogues,
    () => new Map(catalogues.flatMap((catalogue) => Object.entries(catalogue.items).map(([id, item]) => [id, item.name] as const))),
  );

/** What the row of a table of choices is called that gives an item: by its own name, else as the catalogues call that. */
export const gradeName = (context: JobContext, scope: Scope, { name, gives }: { readonly name?: string; readonly gives: string }): string =>
  name ??
  (gives === staysIn ? context.words.choice.staysIn : undefined) ??
  itemNames(cataloguesFor(context.library, context.vehicle.id)).get(gives) ??
  nameOf(context, scope, gives);
