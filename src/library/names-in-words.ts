import type { Scope } from './scope.js';

/** What something is called, to be looked at word by word. */
export const inWords = (id: string, name: string | undefined): string => `${id} ${name ?? ''}`.toLowerCase().replace(/[-/\s]+/g, ' ');

/** The same of what is measured, set or looked at: as it is written, and as the sheet calls a measurement. */
export const wordsOf = ({ measurements }: Scope, object: string): string => inWords(object, measurements.get(object)?.name);
