import { create, type Font, type Glyph } from 'fontkit';
import { notInFont } from '../../layout/characters.js';
import type { Measure, Weight } from '../../layout/page.js';
import { codeOf } from '../../lookalikes.js';
import { Few, once } from '../../once.js';
import { notTogether, type Prepared, preparedFrom, sealOf, type Subset, subsetOf } from './prepared.js';

/** The three faces that paper uses, opened once for all documents of a run. */
export interface Faces {
  readonly measure: Measure;
  readonly of: (weight: Weight) => Face;
  /** @param word text without a space, or a space: text is measured and drawn word by word */
  readonly shape: (word: string, weight: Weight) => Shape;
}

export interface GlyphOfFont {
  /** Its number in the font. */
  readonly id: number;
  /** In thousandths of the size. */
  readonly width: number;
  /** The characters that it stands for. */
  readonly codePoints: readonly number[];
}

/** A word set in a face. What is measured is what is drawn. */
export interface Shape {
  /** Of the whole word, in sizes. */
  readonly width: number;
  readonly glyphs: readonly GlyphOfFont[];
  /** How much nearer than its own width the next glyph comes after each, in thousandths of the size. */
  readonly nearer: readonly number[];
  /** Where each glyph stands, from the start of the word on its line, in thousandths of the size; null where they simply follow each other. */
  readonly places: readonly (readonly [number, number])[] | null;
}

export const weights: readonly Weight[] = ['regular', 'semibold', 'bold'];

/** A face as it comes with the tool. */
export interface FontFile {
  /** What `prepare` wrote of it. */
  readonly prepared: Buffer;
  /** Reads it whole, as TrueType data. */
  readonly whole: () => Buffer;
}

export type FontFiles = Readonly<Record<Weight, FontFile>>;

export function openFaces(files: FontFiles): Faces {
  const faces = new Map(weights.map((weight) => [weight, new Face(files[weight])]));
  const of = (weight: Weight) => {
    const found = faces.get(weight);
    if (!found) throw new Error(`no face ${weight}`);
    return found;
  };
  const shape = (word: string, weight: Weight) => of(weight).shape(word);
  return {
    of,
    shape,
    measure: {
      width(text, size, weight) {
        let sum = 0;
        let from = 0;
        for (let space = text.indexOf(' '); space >= 0; space = text.indexOf(' ', from)) {
          sum += (space > from ? shape(text.slice(from, space), weight).width : 0) + shape(' ', weight).width;
          from = space + 1;
        }
        return (sum + shape(from > 0 ? text.slice(from) : text, weight).width) * size;
      },
    },
  };
}

/** Words that are remembered for each face; a shop's are far fewer, and memory stays bounded over any number of jobs. */
export const mostWords = 20_000;

export function openFont(file: Buffer): Font {
  const font = create(file);
  if (font.type !== 'TTF' && font.type !== 'WOFF' && font.type !== 'WOFF2') throw new Error('the font file is a collection');
  glyphsAsAsked(font as Font);
  return font as Font;
}

/** What fontkit keeps to itself of a glyph: how it is made, and how it reads its outline. */
interface Outlined extends Glyph {
  readonly constructor: new (id: number, codePoints: readonly number[], font: Font) => Outlined;
  _decode?: () => unknown;
}

/**
 * fontkit keeps one glyph of each number, with the characters that it stood for when it was first asked for, which may be
 * others in the next document (a letter may be drawn as another is); and it reads the outline anew for each document that
 * carries it, a good part of a page. Here each glyph stands for what it was asked for, and an outline is read once.
 */
function glyphsAsAsked(font: Font): void {
  const kept = font.getGlyph.bind(font);
  const plain = new Map<number, Outlined>();
  font.getGlyph = (id, codePoints = []) => {
    const glyph = once(plain, id, () => readOnce(kept(id) as Outlined));
    return codePoints.length === 0 ? glyph : new glyph.constructor(id, codePoints, font);
  };
}

function readOnce(glyph: Outlined): Outlined {
  const decode = glyph._decode?.bind(glyph);
  let outline: unknown;
  if (decode) glyph._decode = () => (outline ??= decode());
  return glyph;
}

/** One face: what was prepared of it, and the whole font where that does not suffice. */
export class Face {
  readonly prepared: Prepared;
  /** Numbers in any document of the prepared glyphs, by their numbers in the font. */
  readonly numbers: ReadonlyMap<number, number>;
  private opened: Font | undefined;
  private readonly known = new Few<string, Shape>(mostWords);

  constructor(private readonly file: FontFile) {
    try {
      this.prepared = preparedFrom(file.prepared);
    } catch {
      throw notTogether();
    }
    this.numbers = new Map(this.prepared.glyphs.map(({ id }, n) => [id, n + 1]));
  }

  get whole(): Font {
    if (!this.opened) {
      const font = openFont(this.file.whole());
      if (sealOf(font) !== this.prepared.seal) throw notTogether();
      this.opened = font;
    }
    return this.opened;
  }

  /** Height of its letters above the line, in sizes. */
  get ascent(): number {
    const { ascent, unitsPerEm } = this.prepared.measures;
    return ascent / unitsPerEm;
  }

  /** The same words return on every page and in every job, so each is set once. */
  shape(word: string): Shape {
    let found = this.known.get(word);
    if (!found) {
      found = this.prepared.set(word) ?? shapeOf(this.whole, word);
      this.known.set(word, found);
    }
    return found;
  }

  /** What pdfkit asks of a font that it embeds. Text goes by way of `shape`. */
  get forPdf(): object {
    const { missing, familyClass, isFixedPitch, isItalic, ...measures } = this.prepared.measures;
    return {
      ...measures,
      'OS/2': { sFamilyClass: familyClass },
      post: { isFixedPitch },
      head: { macStyle: { italic: isItalic } },
      getGlyph: () => ({ advanceWidth: missing }),
      createSubset: () => new FaceSubset(this),
      layout: (text: string) => this.whole.layout(text),
    };
  }
}

/**
 * The subset of a face that a document carries: that of the common letters; where it has others, that of all which were
 * prepared; and where it has a glyph that was not, one that begins with the same.
 */
class FaceSubset implements Subset {
  private kind: 'common' | 'all' = 'common';
  private other: Subset | undefined;

  constructor(private readonly face: Face) {}

  includeGlyph(id: number): number {
    const { numbers, prepared } = this.face;
    const number = numbers.get(id);
    if (number === undefined) {
      this.other ??= subsetOf(this.face.whole, prepared.glyphs);
      return this.other.includeGlyph(id);
    }
    if (number > prepared.common) this.kind = 'all';
    return number;
  }

  encode(): Uint8Array {
    return this.other?.encode() ?? this.face.prepared.subsets[this.kind];
  }
}

/** A word set by fontkit, which opens the font's tables. */
export function shapeOf(font: Font, word: string): Shape {
  const { glyphs, positions, advanceWidth } = font.layout(word);
  const scale = 1000 / font.unitsPerEm;
  let at = 0;
  const places = positions.map(({ xAdvance, xOffset, yOffset }) => {
    const place = [(at + xOffset) * scale, yOffset * scale] as const;
    at += xAdvance;
    return place;
  });
  return {
    width: advanceWidth / font.unitsPerEm,
    glyphs: glyphs.map(({ id, advanceWidth, codePoints }) => ({ id, width: advanceWidth * scale, codePoints })),
    nearer: positions.map(({ xAdvance }, index) => ((glyphs[index]?.advanceWidth ?? xAdvance) - xAdvance) * scale),
    places: positions.some(({ xOffset, yOffset }) => xOffset !== 0 || yOffset !== 0) ? places : null,
  };
}

const control = /\p{Cc}/gu;

/** A paper that cannot be made as its job is, in words that end with what to do; that of other jobs can. */
export class NotDrawn extends Error {
  override readonly name = 'NotDrawn';
}

/**
 * A character that the font lacks is refused: a box on paper where a figure belongs could be anything.
 * @throws NotDrawn
 */
export function refuseMissing(texts: readonly string[]): void {
  const missing = new Map<string, string>();
  for (const text of texts)
    for (const one of [...notInFont(text), ...(text.match(control) ?? [])]) if (!missing.has(one)) missing.set(one, text);
  if (missing.size === 0) return;
  const named = [...missing].slice(0, 5).map(([character, text]) => `“${character}” (${codeOf(character)}) in “${text.slice(0, 60)}”`);
  throw new NotDrawn(
    `The font of the paper lacks ${missing.size === 1 ? 'a character' : 'characters'} that this job uses: ${named.join('; ')}. Write it in other letters.`,
  );
}
