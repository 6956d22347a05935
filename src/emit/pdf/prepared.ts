import zlib from 'node:zlib';
import type { Font } from 'fontkit';
import { CannotRun } from '../../world/world.js';
import type { GlyphOfFont, Shape } from './fonts.js';
import { alreadyPacked } from './packing.js';

/**
 * What is asked of a face once, when the tool is built: its measures, how far apart its letters stand two by two, and the
 * subset of the font that draws the common ones. A sheet of such letters is then set and carries its font without the font
 * being opened, which is most of the time of a first sheet, and much of any.
 */
export interface Prepared {
  /** A sum over the whole font: what was prepared belongs to this font and no other. */
  readonly seal: number;
  readonly measures: Measures;
  /** Sets a word; null where only the font can. */
  readonly set: (word: string) => Shape | null;
  /** Glyphs of the common letters. Their numbers in a document are their places here, from 1; 0 stands for what is missing. */
  readonly common: readonly GlyphOfFont[];
  /** The subset of the font with these, as TrueType data, packed as it goes into a document (`alreadyPacked`). */
  readonly subset: Uint8Array;
}

/** What pdfkit asks of a font, in the units of the font. */
export interface Measures {
  readonly postscriptName: string | null;
  readonly unitsPerEm: number;
  readonly ascent: number;
  readonly descent: number;
  readonly lineGap: number;
  readonly xHeight: number;
  readonly capHeight: number;
  readonly italicAngle: number;
  readonly bbox: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number };
  /** Advance of the glyph that stands for what is missing. */
  readonly missing: number;
  readonly familyClass: number;
  readonly isFixedPitch: boolean;
  readonly isItalic: boolean;
}

/** What the paper uses again and again: these come with every document, a few kilobytes each face. */
const common: readonly string[] = [...range(0x20, 0x7e), ...' §«°±²³µ·»½×ÄÖÜßàäçèéöü‘’“”„–—…•−≤≥→←′″', 'fi'];

/** These are set without the font as well: Latin-1 without the soft hyphen, which is shown only where a line ends. */
const letters: readonly string[] = [...new Set([...common, ...range(0xa0, 0xac), ...range(0xae, 0xff)])];
const count = letters.length;
const places: ReadonlyMap<string, number> = new Map(letters.map((letter, place) => [letter, place]));

/** These two do not simply follow each other. */
const composed = 0x7fff;

/** The head of the prepared data, as JSON: by letter the number and the advance of its glyph, or null where it has none of its own. */
interface Head {
  readonly seal: number;
  readonly measures: Measures;
  readonly glyphs: readonly (readonly [id: number, advance: number] | null)[];
  /** Of all that follows the head, bytes. */
  readonly size: number;
}

/**
 * What fontkit answers, to be kept beside the font: the length of the head (32 bits), the head, for every two letters how
 * much nearer than its advance the second comes after the first, or `composed` (16 bits), and the packed subset of the font. All
 * numbers are little-endian, distances in units of the font.
 */
export function prepare(font: Font): Buffer {
  const alone = letters.map((letter) => {
    const { glyphs } = font.layout(letter);
    return glyphs.length === 1 ? glyphs[0] : undefined;
  });
  const head: Omit<Head, 'size'> = {
    seal: sealOf(font),
    measures: measuresOf(font),
    glyphs: alone.map((glyph) => (glyph ? [glyph.id, glyph.advanceWidth] : null)),
  };
  const pairs = Buffer.alloc(count * count * 2);
  let at = 0;
  for (const [a, first] of letters.entries())
    for (const [b, second] of letters.entries()) {
      const { glyphs, positions } = font.layout(first + second);
      const follow =
        glyphs.length === 2 &&
        glyphs[0]?.id === alone[a]?.id &&
        glyphs[1]?.id === alone[b]?.id &&
        positions[1]?.xAdvance === glyphs[1]?.advanceWidth &&
        positions.every(({ xOffset, yOffset }) => xOffset === 0 && yOffset === 0);
      at = pairs.writeInt16LE(follow ? (glyphs[0]?.advanceWidth ?? 0) - (positions[0]?.xAdvance ?? 0) : composed, at);
    }
  const subset = zlib.deflateSync(subsetOf(font, commonOf(head)).encode());
  const text = Buffer.from(JSON.stringify({ ...head, size: pairs.length + subset.length } satisfies Head));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(text.length);
  return Buffer.concat([length, text, pairs, subset]);
}

/** What `prepare` wrote; throws where it is not whole. */
export function preparedFrom(bytes: Buffer): Prepared {
  const start = 4 + bytes.readUInt32LE(0);
  const head: Head = JSON.parse(bytes.toString('utf8', 4, start));
  const end = start + count * count * 2;
  if (bytes.length !== start + head.size) throw new Error('what was prepared of a font is cut off');
  return {
    seal: head.seal,
    measures: head.measures,
    set: setter(head, bytes.subarray(start, end)),
    common: commonOf(head),
    subset: alreadyPacked(bytes.subarray(end)),
  };
}

/** The glyph of each letter. */
function glyphsOf({ glyphs, measures }: Omit<Head, 'size'>): (GlyphOfFont | null)[] {
  const scale = 1000 / measures.unitsPerEm;
  return glyphs.map(
    (glyph, place) =>
      glyph && { id: glyph[0], width: glyph[1] * scale, codePoints: Array.from(letters[place] ?? '', (one) => one.codePointAt(0) ?? 0) },
  );
}

/** Each glyph of the common letters once, for the first that it draws. */
function commonOf(head: Omit<Head, 'size'>): GlyphOfFont[] {
  const found = new Map<number, GlyphOfFont>();
  for (const glyph of glyphsOf(head).slice(0, common.length)) if (glyph && !found.has(glyph.id)) found.set(glyph.id, glyph);
  return [...found.values()];
}

/** A number of 16 bits, little-endian. (Node's own way checks each time where it reads.) */
const signed = (bytes: Uint8Array, at: number): number => (bytes[at] ?? 0) | (((bytes[at + 1] ?? 0) << 24) >> 16);

function setter(head: Head, pairs: Uint8Array): Prepared['set'] {
  const { unitsPerEm } = head.measures;
  const scale = 1000 / unitsPerEm;
  const glyphOf = glyphsOf(head);
  return (word) => {
    const inWord = lettersOf(word);
    const glyphs: GlyphOfFont[] = [];
    const nearer: number[] = [];
    let advance = 0;
    for (let n = 0; n < inWord.length; n++) {
      const place = inWord[n] ?? -1;
      const glyph = glyphOf[place];
      if (!glyph) return null;
      const next = inWord[n + 1];
      const near = next === undefined ? 0 : next < 0 ? composed : signed(pairs, 2 * (place * count + next));
      if (near === composed) return null;
      glyphs.push(glyph);
      nearer.push(near * scale);
      advance += (head.glyphs[place]?.[1] ?? 0) - near;
    }
    return { width: advance / unitsPerEm, glyphs, nearer, places: null };
  };
}

/** The places of a word's letters, ligatures first; -1 for what is none of them. */
function lettersOf(word: string): number[] {
  const found: number[] = [];
  for (let n = 0; n < word.length; n++) {
    const ligature = word[n] === 'f' ? places.get(word.slice(n, n + 2)) : undefined;
    if (ligature !== undefined) n++;
    found.push(ligature ?? places.get(word[n] ?? '') ?? -1);
  }
  return found;
}

/** A subset of a font, as it goes into a document. */
export interface Subset {
  /** @returns the number in the subset of a glyph of the font, which is taken into it */
  includeGlyph(id: number): number;
  encode(): Uint8Array;
}

/** A subset of a font that begins with some glyphs, numbered from 1; fontkit's own types of it are not what it does. */
export function subsetOf(font: Font, glyphs: readonly GlyphOfFont[]): Subset {
  const subset = font.createSubset() as unknown as Subset;
  for (const { id } of glyphs) subset.includeGlyph(id);
  return subset;
}

/** Tables of the font that the types of fontkit leave out. */
type Tables = Font & {
  readonly head: { readonly checkSumAdjustment: number; readonly macStyle: { readonly italic: boolean } };
  readonly post: { readonly isFixedPitch: number };
  readonly 'OS/2': { readonly sFamilyClass: number };
};

const tablesOf = (font: Font): Tables => font as Tables;

export const sealOf = (font: Font): number => tablesOf(font).head.checkSumAdjustment;

function measuresOf(font: Font): Measures {
  const { postscriptName, unitsPerEm, ascent, descent, lineGap, xHeight, capHeight, italicAngle } = font;
  const { minX, minY, maxX, maxY } = font.bbox;
  const { head, post, 'OS/2': os2 } = tablesOf(font);
  return {
    postscriptName,
    unitsPerEm,
    ascent,
    descent,
    lineGap,
    xHeight,
    capHeight,
    italicAngle,
    bbox: { minX, minY, maxX, maxY },
    missing: font.getGlyph(0).advanceWidth,
    familyClass: os2.sFamilyClass,
    isFixedPitch: post.isFixedPitch !== 0,
    isItalic: head.macStyle.italic,
  };
}

/** What was prepared belongs to another font, or is damaged. */
export const notTogether = (): CannotRun =>
  new CannotRun('The font files of the installation are damaged or do not belong together. Install baywright again.');

function range(from: number, to: number): string[] {
  return Array.from({ length: to - from + 1 }, (_, n) => String.fromCharCode(from + n));
}
