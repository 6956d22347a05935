import type { Font } from 'fontkit';
import type { GlyphOfFont, Shape } from './fonts.js';

/**
 * How far apart the letters of a face stand, two by two: asked of fontkit once, when the tool is built. A word of such
 * letters is then set without opening the font's tables, which is most of the time of a first sheet.
 *
 * The form, all numbers little-endian: for each face the checksum of its font (`head.checkSumAdjustment`, 32 bits), then
 * in units of the font, 16 bits each: glyph and advance of every letter, and for every two letters how much nearer than
 * its advance the second comes after the first, or `composed`.
 */

/** ASCII, Latin-1 without the soft hyphen (which is shown only where a line ends), signs, and the one ligature of the font. */
const letters: readonly string[] = [...range(0x20, 0x7e), ...range(0xa0, 0xac), ...range(0xae, 0xff), ...'‘’“”„–—…•−≤≥→←′″', 'fi'];
const count = letters.length;
const places: ReadonlyMap<string, number> = new Map(letters.map((letter, place) => [letter, place]));

/** These two do not simply follow each other. */
const composed = 0x7fff;
/** The number of the glyph that stands for what a font lacks. */
const none = 0;

const [sealSize, letterSize] = [4, 4];
const faceSize = sealSize + count * letterSize + count * count * 2;

/** What fontkit answers for the letters of some faces, to be kept beside the fonts. */
export function pairsOf(faces: readonly Font[]): Buffer {
  const bytes = Buffer.alloc(faces.length * faceSize);
  for (const [face, font] of faces.entries()) {
    let at = face * faceSize;
    at = bytes.writeUInt32LE(sealOf(font), at);
    const alone = letters.map((letter) => {
      const { glyphs } = font.layout(letter);
      return glyphs.length === 1 ? glyphs[0] : undefined;
    });
    for (const glyph of alone) {
      at = bytes.writeUInt16LE(glyph?.id ?? none, at);
      at = bytes.writeInt16LE(glyph?.advanceWidth ?? 0, at);
    }
    for (const [a, first] of letters.entries())
      for (const [b, second] of letters.entries()) {
        const { glyphs, positions } = font.layout(first + second);
        const follow =
          glyphs.length === 2 &&
          glyphs[0]?.id === alone[a]?.id &&
          glyphs[1]?.id === alone[b]?.id &&
          positions[1]?.xAdvance === glyphs[1]?.advanceWidth &&
          positions.every(({ xOffset, yOffset }) => xOffset === 0 && yOffset === 0);
        at = bytes.writeInt16LE(follow ? (glyphs[0]?.advanceWidth ?? 0) - (positions[0]?.xAdvance ?? 0) : composed, at);
      }
  }
  return bytes;
}

/** Sets words of a face as `pairsOf` found it; null for a word that only the font can set, and for all where the font is another. */
export function setterOf(bytes: Buffer, face: number, font: Font): (word: string) => Shape | null {
  const start = face * faceSize;
  if (bytes.length < start + faceSize || bytes.readUInt32LE(start) !== sealOf(font)) return () => null;
  const scale = 1000 / font.unitsPerEm;
  const advances = letters.map((_, place) => bytes.readInt16LE(start + sealSize + place * letterSize + 2));
  const glyphOf = letters.map((letter, place): GlyphOfFont | null => {
    const id = bytes.readUInt16LE(start + sealSize + place * letterSize);
    return id === none
      ? null
      : { id, width: (advances[place] ?? 0) * scale, codePoints: [...letter].map((one) => one.codePointAt(0) ?? 0) };
  });
  const pairs = start + sealSize + count * letterSize;
  return (word) => {
    const inWord = lettersOf(word);
    const glyphs: GlyphOfFont[] = [];
    const nearer: number[] = [];
    let advance = 0;
    for (const [n, place] of inWord.entries()) {
      const glyph = glyphOf[place];
      const next = inWord[n + 1];
      const near = next === undefined ? 0 : next < 0 ? composed : bytes.readInt16LE(pairs + 2 * (place * count + next));
      if (!glyph || near === composed) return null;
      glyphs.push(glyph);
      nearer.push(near * scale);
      advance += (advances[place] ?? 0) - near;
    }
    return { width: advance / font.unitsPerEm, glyphs, nearer, places: null };
  };
}

/** The places of a word's letters in the table, ligatures first; -1 for what is not in it. */
function lettersOf(word: string): number[] {
  const found: number[] = [];
  for (let n = 0; n < word.length; n++) {
    const ligature = word[n] === 'f' ? places.get(word.slice(n, n + 2)) : undefined;
    if (ligature !== undefined) n++;
    found.push(ligature ?? places.get(word[n] ?? '') ?? -1);
  }
  return found;
}

/** A sum over the whole font that each TrueType file carries; the types of fontkit leave it out. */
const sealOf = (font: Font): number => (font as Font & { readonly head: { readonly checkSumAdjustment: number } }).head.checkSumAdjustment;

function range(from: number, to: number): string[] {
  return Array.from({ length: to - from + 1 }, (_, n) => String.fromCharCode(from + n));
}
