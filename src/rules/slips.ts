import { closest, isTypo, Names } from '../findings/suggest.js';
import type { Scope } from '../library/scope.js';
import { once } from '../once.js';

/** What steps are often done to, whether a profile names it or not. */
const usual = ['engine', 'vehicle', 'ignition', 'high-voltage'];

const known = new WeakMap<object, Names>();

const namesIn = ({ things, ...scope }: Scope): Names =>
  once(known, things, () => {
    const tables = [scope.parts, scope.temporaries, scope.fasteners, scope.fluids, scope.charges];
    return new Names([...usual, ...tables.flatMap((table) => [...table.keys()])]);
  });

const withoutLetters = (name: string): string => name.replace(/\D/g, '');

/** One and several of the same. */
const isPlural = (one: string, other: string): boolean => `${one}s` === other || one === `${other}s`;

/**
 * The name for which a word is a slip that stands where any word may: of a part, a fluid, what an engine is called. Words that
 * are near to a name and may well be other words are none.
 */
export function slipFor(word: string, scope: Scope): string | undefined {
  const names = namesIn(scope);
  const name = names.has(word) ? undefined : closest(word, names, 1)?.name;
  if (name === undefined || isPlural(word, name) || withoutLetters(word) !== withoutLetters(name)) return undefined;
  return isTypo(word, [name]) ? name : undefined;
}
