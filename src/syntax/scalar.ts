const words: ReadonlyMap<string, null | boolean> = new Map<string, null | boolean>([
  ['', null],
  ['~', null],
  ['null', null],
  ['Null', null],
  ['NULL', null],
  ['true', true],
  ['True', true],
  ['TRUE', true],
  ['false', false],
  ['False', false],
  ['FALSE', false],
]);

const longestWord = Math.max(...Array.from(words.keys(), (word) => word.length));

/** The value of a plain scalar by the core schema of YAML 1.2.2 (10.3.2). */
export function plainValue(source: string): string | number | boolean | null {
  const first = source.charCodeAt(0);
  // Digits, signs and the dot begin numbers; everything else is a word.
  if ((first >= 48 && first <= 57) || first === 43 || first === 45 || first === 46) {
    if (/^[-+]?\d+$/.test(source)) return Number(source);
    if (/^0o[0-7]+$/.test(source) || /^0x[\da-fA-F]+$/.test(source)) return Number(source);
    if (/^[-+]?(\.\d+|\d+(\.\d*)?)([eE][-+]?\d+)?$/.test(source)) return Number(source);
    if (/^[-+]?\.(inf|Inf|INF)$/.test(source)) return first === 45 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
    if (/^\.(nan|NaN|NAN)$/.test(source)) return Number.NaN;
    return source;
  }
  if (source.length > longestWord) return source;
  const word = words.get(source);
  return word === undefined ? source : word;
}

/** Whether a number is written as a program writes it, but for zeros at its end; so that its value says all that its text does. */
export const isPlainNumber = (source: string): boolean => /^(0|-?(0(?=\.0*[1-9])|[1-9]\d{0,7}))(\.\d{1,6})?$/.test(source);

/** Whether a text is true or false to older readers of YAML. */
export const isOnOff = (text: string): boolean => text.length <= 3 && /^(on|off|yes|no|y|n)$/i.test(text);

/** A name as it is written, so that every reader takes it as a text: in quotes where it would be a number, a state or a day. */
export const inYaml = (name: string): string =>
  typeof plainValue(name) === 'string' && !isOnOff(name) && !/^\d{4}-\d\d?-\d\d?$/.test(name) ? name : JSON.stringify(name);
