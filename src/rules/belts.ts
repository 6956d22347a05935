import { inWords } from '../library/names-in-words.js';
import { partsWhere } from './parts-where.js';

/** Whether something tightens belts, by its name, and not the belts of seats; in the languages of the tool. */
export const isTensioner = (words: string): boolean => /(?<!pre ?)tension|spann(er|rolle|vorrichtung|element)/.test(words);

/** What tightens or guides belts, by its name; in the languages of the tool. */
const guiding = /tension|idler|pulley|guide|spann|umlenk|rolle/;

/** What runs round several wheels, and nothing that tightens or guides it. */
export const beltsOf = partsWhere(
  ({ role, name }, id) => role === 'belt' && /belt|chain|riemen|kette/.test(inWords(id, name)) && !guiding.test(id),
);
