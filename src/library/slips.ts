import { closest, isTypo, Names } from '../findings/suggest.js';
import { Few, once } from '../once.js';
import type { Scope } from './scope.js';

/** What steps are often done to, whether a profile names it or not. */
const usual = ['engine', 'vehicle', 'ignition', 'high-voltage'];

/** Names of parts, fluids and what an engine is called, to be asked about words that stand where any word may. */
export class Slips {
  private readonly names: Names;
  /** What was found for the words that were asked about: procedures of one vehicle have many words in common. */
  private readonly meant = new Few<string, { readonly name: string | undefined }>(1000);

  constructor({ parts, temporaries, fasteners, fluids, charges }: Scope) {
    this.names = new Names([...usual, ...[parts, temporaries, fasteners, fluids, charges].flatMap((table) => [...table.keys()])]);
  }

  /** The name for which a word is a slip. Words that are near to a name and may well be other words are none. */
  meantBy(word: string): string | undefined {
    return this.names.has(word) ? undefined : once(this.meant, word, () => ({ name: slipAmong(word, this.names) })).name;
  }
}

/** The name for which a word that is none of them can only be a slip. */
export function slipAmong(word: string, names: Names): string | undefined {
  const name = closest(word, names, 1)?.name;
  if (name === undefined || isPlural(word, name) || withoutLetters(word) !== withoutLetters(name)) return undefined;
  return isTypo(word, [name]) ? name : undefined;
}

const withoutLetters = (name: string): string => name.replace(/\D/g, '');

/** One and several of the same. */
const isPlural = (one: string, other: string): boolean => `${one}s` === other || one === `${other}s`;

const known = new WeakMap<object, Slips>();

export const slipsIn = (scope: Scope): Slips => once(known, scope.things, () => new Slips(scope));
