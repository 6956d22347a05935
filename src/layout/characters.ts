import { inFont } from './generated/characters.js';

/** What is in no face of the font; ends of lines and tabs are not drawn. */
const lacking = new RegExp(`[^${inFont}\\n\\r\\t]`, 'gu');

/** Most texts have none. All Latin letters are in the font. */
const notLatin = /[^\0-\u017f]/;

/** Whether a text may have characters that the font lacks: soon told, also of a whole file. */
export const mayLack = (text: string): boolean => notLatin.test(text);

/** The characters of a text that the font of the paper lacks, each once. */
export const notInFont = (text: string): readonly string[] => (mayLack(text) ? [...new Set(text.match(lacking))] : none);

const none: readonly string[] = [];
