// Characters that look like those of names and of YAML, and are others: they come from web pages, text processors and other
// keyboards. A choice, from memory, of what Unicode lists as confusable (UTS 39).

export const spaces = '\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000';
export const dashes = '\u2010-\u2015\u2212\ufe63\uff0d';
export const colons = '\u2236\ua789\ufe13\ufe55\uff1a';
export const quotes = '\u00ab\u00bb\u201c-\u201f\u2033';
const apostrophes = '\u2018-\u201b\u2032';

const signs: readonly (readonly [RegExp, string])[] = [
  [new RegExp(`[${spaces}]`, 'g'), ' '],
  [new RegExp(`[${dashes}]`, 'g'), '-'],
  [new RegExp(`[${colons}]`, 'g'), ':'],
  [new RegExp(`[${quotes}]`, 'g'), '"'],
  [new RegExp(`[${apostrophes}]`, 'g'), "'"],
];

/** Cyrillic and Greek letters. */
const letters: ReadonlyMap<string, string> = new Map(
  Array.from('аaсcԁdеeһhіiјjоoрpԛqѕsԝwхxуyαaοoνvρpιi'.matchAll(/(.)([a-z])/gu), ([, like, plain]) => [like ?? '', plain ?? '']),
);

// biome-ignore lint/suspicious/noControlCharactersInRegex: what is not ASCII
const other = /[^\u0000-\u007f]/g;

/** A text as it looks: in plain letters, digits and signs, where it has characters that look like these. */
export function asItLooks(text: string): string {
  if (text.search(other) < 0) return text;
  let plain = text.normalize('NFKC');
  for (const [sign, meant] of signs) plain = plain.replace(sign, meant);
  return plain.replace(other, (one) => letters.get(one) ?? (/\p{Nd}/u.test(one) ? digitOf(one) : one));
}

/** Decimal digits of every script stand in rows of ten that begin with nought. */
function digitOf(character: string): string {
  const code = character.codePointAt(0) ?? 0;
  let nought = code;
  while (code - nought < 9 && /\p{Nd}/u.test(String.fromCodePoint(nought - 1))) nought--;
  return String(code - nought);
}

/** The first character that is not what it looks like, to be told: `“а” (U+0430)`. */
export function lookalikeIn(text: string): string | undefined {
  const [found] = Array.from(text).filter((one) => asItLooks(one) !== one);
  return found && `“${found}” (${codeOf(found)})`;
}

/** `U+0430`. */
export const codeOf = (character: string): string => `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
