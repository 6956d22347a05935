import type { VerbName } from '../ledger/verbs.js';
import { de } from './de.js';
import { en } from './en.js';

/** The catalogue of words of one language. */
export type Words = typeof en;

/** Each is loaded when it is asked for. */
const catalogues = { en: () => en, de: () => de } as const satisfies Record<string, () => Words>;

/** The languages that paper can be in. */
export type Language = keyof typeof catalogues;

export const wordsOf = (language: Language): Words => catalogues[language]();

/** The language that a locale speaks, if there is a catalogue of it; English if not. */
export const languageOf = (locale: string): Language => {
  const [language = ''] = locale.split('-');
  return Object.hasOwn(catalogues, language) ? (language as Language) : 'en';
};

/** What somebody wrote, as a sentence that another may follow: with a full stop where nothing ends it. */
export const asSentence = (text: string): string => (/[.!?…]["”’»“)]?$/.test(text) ? text : `${text}.`);

/** The same within a sentence, or in a list: without the full stop that ends it. */
export const asPart = (text: string): string => text.replace(/(?<!\.)\.$/, '');

/** A sentence from a verb and its objects. */
export const sentence = (words: Words, verb: VerbName, objects: readonly string[]): string =>
  words.actions[verb].replace('{x}', () => words.list(objects));
