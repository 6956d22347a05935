import type { Scope } from '../library/scope.js';
import { once } from '../once.js';
import { wordsOf } from '../library/names-in-words.js';

/** Words of the wheel alignment; in the languages of the tool. */
export const ofAlignment = /\btoe\b|\balign|\bcamber|\bcastor|\bcaster|spur|sturz|vermess/i;

const known = new WeakMap<object, Map<string, boolean>>();

/** Whether what is measured or set is the wheel alignment, by its name. */
export const isAlignment = (scope: Scope, object: string): boolean =>
  once(
    once(known, scope.measurements, () => new Map()),
    object,
    () => ofAlignment.test(wordsOf(scope, object)),
  );
