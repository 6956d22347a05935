/** A class of objects that inherit nothing. */
function bareClass() {
  class Bare {
    [key: string]: unknown;
  }
  Object.setPrototypeOf(Bare.prototype, null);
  Reflect.deleteProperty(Bare.prototype, 'constructor');
  return Bare;
}

/**
 * What inherits nothing, for tables that are asked for names of the user's: `constructor` and `__proto__` are names like
 * others there. Faster than `Object.create(null)`, as the engine knows its form.
 */
export const Bare = bareClass();

/**
 * The same for what stands in a document: mostly one to three keys, beside those of its place (schema/origin.ts). The engine
 * gives room as the first few of a class need it, and more to those with more keys.
 */
export const InDocument = bareClass();
for (let n = 0; n < 8; n++) Object.assign(new InDocument(), { file: n, group: n, first: n, second: n, third: n });

/** A table that inherits nothing. */
export const bare = <T>(entries: Readonly<Record<string, T>>): Readonly<Record<string, T>> =>
  Object.assign(new Bare(), entries) as Readonly<Record<string, T>>;
