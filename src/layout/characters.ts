import { codeOf } from '../lookalikes.js';
import { inFont } from './generated/characters.js';

/** What is in no face of the font; ends of lines and tabs are not drawn. */
const lacking = new RegExp(`[^${inFont}\\n\\r\\t]`, 'gu');

/** Most texts have none. All Latin letters are in the font. */
const notLatin = /[^\n\r\t\u0020-\u007e\u00a0-\u017f]/;

/** Whether a text may have characters that the font lacks: soon told, also of a whole file. */
export const mayLack = (text: string): boolean => notLatin.test(text);

/** The characters of a text that the font of the paper lacks, each once. */
export const notInFont = (text: string): readonly string[] => (mayLack(text) ? [...new Set(text.match(lacking))] : none);

/** The name of a file, or what names one, with what the font lacks spelt out (`U+1F600`): it is no figure to work from. */
export const spelt = (text: string): string => (mayLack(text) ? text.replace(lacking, codeOf) : text);

const none: readonly string[] = [];
