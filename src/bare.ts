/**
 * What inherits nothing, for tables that are asked for names of the user's: `constructor` and `__proto__` are names like
 * others there. Faster than `Object.create(null)`, as the engine knows its form.
 */
export class Bare {
  [key: string]: unknown;
}
Object.setPrototypeOf(Bare.prototype, null);
Reflect.deleteProperty(Bare.prototype, 'constructor');

/** A table that inherits nothing. */
export const bare = <T>(entries: Readonly<Record<string, T>>): Readonly<Record<string, T>> =>
  Object.assign(new Bare(), entries) as Readonly<Record<string, T>>;
