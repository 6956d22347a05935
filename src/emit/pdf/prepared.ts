import zlib from 'node:zlib';
import type { Font, Glyph } from 'fontkit';
import { once } from '../../once.js';
import { CannotRun } from '../../world/world.js';
import type { GlyphOfFont, Shape } from './fonts.js';
import { alreadyPacked } from './packing.js';

/**
 * What is asked of a face once, when the tool is built: its measures, how far apart its letters stand two by two, and two
 * subsets of the font, one that draws the common letters and one that draws all of these. A sheet of such letters is then set
 * and carries its font without the font being opened, which is most of the time of a first sheet, and much of any.
 */
export interface Prepared {
  /** A sum over the whole font: what was prepared belongs to this font and no other. */
  readonly seal: number;
  readonly measures: Measures;
  /** Sets a word; null where only the font can. */
  readonly set: (word: string) => Shape | null;
  /**
   * Glyphs of the letters, those of the common ones first. Their numbers in a document are their places here, from 1; 0 stands
   * for what is missing.
   */
  readonly glyphs: readonly GlyphOfFont[];
  /** How many of them the common letters have. */
  readonly common: number;
  /** The subsets of the font with these, and with all, as TrueType data, packed as it goes into a document (`alreadyPacked`). */
  readonly subsets: { readonly common: Uint8Array; readonly all: Uint8Array };
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
const common: readonly string[] = [...range(0x20, 0x7e), ...' §«°±²³µ·»¼½¾×ÄÖÜßàäçèéöü‘’“”„–—…•−≤≥→←′″Ωθμφ', 'fi'];

/**
 * Without the font are set as well: Latin-1, but for the soft hyphen, which is shown only where a line ends; the letters of
 * other Latin alphabets (Latin Extended-A, and four of Romanian); signs; and Greek letters, for an angle, friction or resistance.
 */
const letters: readonly string[] = [
  ...new Set([
    ...common,
    ...[...range(0xa0, 0xac), ...range(0xae, 0xff), ...range(0x100, 0x17f), ...'ȘșȚț'],
    ...'ẞ‒‚‹›⁄€№™⅓⅔⅛⅜⅝⅞↑↓↔√∞≈≠',
    ...[...range(0x391, 0x3a1), ...range(0x3a3, 0x3a9), ...range(0x3b1, 0x3c9), '\u2126'],
  ]),
];
const codePoints: readonly (readonly number[])[] = letters.map((letter) => Array.from(letter, (one) => one.codePointAt(0) ?? 0));
const places: ReadonlyMap<string, number> = new Map(letters.map((letter, place) => [letter, place]));

/** These two do not simply follow each other. */
const composed = 0x7fff;

/** The head of the prepared data, as JSON. */
interface Head {
  readonly seal: number;
  readonly measures: Measures;
  /** By letter the number and the advance of its glyph, or null where it has none of its own. */
  readonly glyphs: readonly (readonly [id: number, advance: number] | null)[];
  /** By letter, which row of the table it has as the first of two, and which column as the second: many stand as others do. */
  readonly rows: readonly number[];
  readonly columns: readonly number[];
  /** Of what follows the head, in bytes: the table and the two subsets. */
  readonly sizes: readonly [table: number, common: number, all: number];
}

/**
 * What fontkit answers, to be kept beside the font: the length of the head (32 bits), the head, by row and column how much
 * nearer than its advance the second letter comes after the first, or `composed` (16 bits), and the packed subsets of the font.
 * All numbers are little-endian, distances in units of the font.
 */
export function prepare(font: Font): Buffer {
  const alone = letters.map((letter) => {
    const { glyphs } = font.layout(letter);
    return glyphs.length === 1 ? glyphs[0] : undefined;
  });
  const { rows, columns, table } = withoutTwins(distances(font, alone));
  const glyphs = alone.map((glyph) => (glyph ? ([glyph.id, glyph.advanceWidth] as const) : null));
  const measures = measuresOf(font);
  const drawn = glyphsOf({ glyphs, measures });
  const subsets = [drawn.all.slice(0, drawn.common), drawn.all].map((some) => zlib.deflateSync(subsetOf(font, some).encode()));
  const distancesOf = Buffer.alloc(2 * table.length);
  for (const [n, near] of table.entries()) distancesOf.writeInt16LE(near, 2 * n);
  const parts = [distancesOf, ...subsets];
  const sizes = parts.map(({ length }) => length) as [number, number, number];
  const text = Buffer.from(JSON.stringify({ seal: sealOf(font), measures, glyphs, rows, columns, sizes } satisfies Head));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(text.length);
  return Buffer.concat([length, text, ...parts]);
}

/**
 * By the first of two letters and the second, how much nearer than its advance the second comes after the first, or `composed`,
 * in a word whose script is Latin.
 */
function distances(font: Font, alone: readonly (Glyph | undefined)[]): number[][] {
  const found = letters.map(() => letters.map(() => composed));
  const note = (first: number, second: number, near: number | undefined) => {
    const row = found[first];
    if (row && near !== undefined) row[second] = near;
  };
  const latin = places.get('A') ?? 0;
  /** How much nearer each letter of a row, given by places, has the next; null where not each stands as its glyph. */
  const inRow = (given: readonly number[]) => {
    const row = [latin, ...given];
    const { glyphs, positions } = font.layout(row.map((place) => letters[place]).join(''));
    const simple =
      glyphs.length === row.length &&
      glyphs.every(({ id }, n) => id === alone[row[n] ?? -1]?.id) &&
      positions.every(({ xOffset, yOffset }) => xOffset === 0 && yOffset === 0);
    return simple ? positions.map(({ xAdvance }, n) => (glyphs[n]?.advanceWidth ?? 0) - xAdvance).slice(1) : null;
  };
  for (const first of letters.keys()) {
    // The first and each from it on in turn, at once: to ask for two takes as long as for ten.
    const seconds = [...letters.keys()].slice(first);
    const near = inRow([...seconds.flatMap((second) => [first, second]), first]);
    for (const [n, second] of seconds.entries()) {
      note(first, second, near ? near[2 * n] : inRow([first, second])?.[0]);
      note(second, first, near ? near[2 * n + 1] : inRow([second, first])?.[0]);
    }
  }
  return found;
}

/** A table with equal rows and equal columns once, by row and column, and which of them each row and column of the whole is. */
function withoutTwins(whole: readonly (readonly number[])[]): { rows: number[]; columns: number[]; table: number[] } {
  const turned = whole.map((_, column) => whole.map((row) => row[column] ?? composed));
  const numbered = (lists: readonly (readonly number[])[]) => {
    const numbers = new Map<string, number>();
    return lists.map((list) => once(numbers, list.join(), () => numbers.size));
  };
  const [rows, columns] = [numbered(whole), numbered(turned)];
  const firstOf = (numbers: readonly number[]) => [...new Set(numbers)].map((number) => numbers.indexOf(number));
  const table = firstOf(rows).flatMap((row) => firstOf(columns).map((column) => whole[row]?.[column] ?? composed));
  return { rows, columns, table };
}

/** What `prepare` wrote; throws where it is not whole. */
export function preparedFrom(bytes: Buffer): Prepared {
  const start = 4 + bytes.readUInt32LE(0);
  const head: Head = JSON.parse(bytes.toString('utf8', 4, start));
  const [table, common, all] = head.sizes;
  if (bytes.length !== start + table + common + all) throw new Error('what was prepared of a font is cut off');
  const glyphs = glyphsOf(head);
  return {
    seal: head.seal,
    measures: head.measures,
    set: setter(head, glyphs.byLetter, bytes.subarray(start, start + table)),
    glyphs: glyphs.all,
    common: glyphs.common,
    subsets: {
      common: alreadyPacked(bytes.subarray(start + table, start + table + common)),
      all: alreadyPacked(bytes.subarray(start + table + common)),
    },
  };
}

/** The glyph of each letter; each glyph once, for the first that it draws; and how many of these the common letters have. */
function glyphsOf({ glyphs, measures }: Pick<Head, 'glyphs' | 'measures'>) {
  const scale = 1000 / measures.unitsPerEm;
  const byLetter: (GlyphOfFont | null)[] = [];
  const all: GlyphOfFont[] = [];
  const seen = new Set<number>();
  let ofCommon = 0;
  for (let place = 0; place < letters.length; place++) {
    const made = glyphs[place];
    const glyph = made ? { id: made[0], width: made[1] * scale, codePoints: codePoints[place] ?? [] } : null;
    byLetter.push(glyph);
    if (glyph && !seen.has(glyph.id)) {
      seen.add(glyph.id);
      all.push(glyph);
    }
    if (place === common.length - 1) ofCommon = all.length;
  }
  return { byLetter, all, common: ofCommon };
}

/** A number of 16 bits, little-endian. (Node's own way checks each time where it reads.) */
const signed = (bytes: Uint8Array, at: number): number => (bytes[at] ?? 0) | (((bytes[at + 1] ?? 0) << 24) >> 16);

/** A word is set as the script of its first letter asks; `distances` are those of Latin. */
const isGreek = ({ codePoints: [code = 0] }: GlyphOfFont): boolean => (code >= 0x391 && code <= 0x3c9) || code === 0x2126;
const startsGreek = /^[^\p{Script=Latin}]*\p{Script=Greek}/u;

function setter(
  { measures, glyphs: advances, rows, columns }: Head,
  glyphOf: readonly (GlyphOfFont | null)[],
  table: Uint8Array,
): Prepared['set'] {
  const { unitsPerEm } = measures;
  const scale = 1000 / unitsPerEm;
  const width = Math.max(...columns) + 1;
  return (word) => {
    const inWord = lettersOf(word);
    const glyphs: GlyphOfFont[] = [];
    const nearer: number[] = [];
    let advance = 0;
    for (let n = 0; n < inWord.length; n++) {
      const place = inWord[n] ?? -1;
      const glyph = glyphOf[place];
      if (!glyph || (word.length > 1 && isGreek(glyph) && startsGreek.test(word))) return null;
      const next = inWord[n + 1];
      const near = next === undefined ? 0 : next < 0 ? composed : signed(table, 2 * ((rows[place] ?? 0) * width + (columns[next] ?? 0)));
      if (near === composed) return null;
      glyphs.push(glyph);
      nearer.push(near * scale);
      advance += (advances[place]?.[1] ?? 0) - near;
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
