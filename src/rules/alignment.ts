import type { Scope } from '../library/scope.js';

/** Words of the wheel alignment; in the languages of the tool. */
export const ofAlignment = /\btoe\b|\balign|\bcamber|\bcastor|\bcaster|spur|sturz|vermess/i;

/** Whether what is measured or set is the wheel alignment, by its name. */
export const isAlignment = (scope: Scope, object: string): boolean =>
  ofAlignment.test(`${object} ${scope.measurements.get(object)?.name ?? ''}`);
