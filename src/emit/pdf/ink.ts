import type { Mark, Page, Weight } from '../../layout/page.js';
import { Few, once } from '../../once.js';
import { type Face, type Faces, type GlyphOfFont, mostWords, type Shape } from './fonts.js';

/** What pdfkit keeps of a font that is in use: the subset of it that goes into the document. */
interface FontInUse {
  /** Its name in the content of a page. */
  readonly id: string;
  readonly subset: {
    /** Takes a glyph, by its number in the font, into the subset; its number there. */
    includeGlyph(id: number): number;
  };
  /** By the number in the subset: widths in thousandths of the size, and the characters that each glyph stands for. */
  readonly widths: number[];
  readonly unicode: (readonly number[])[];
  readonly document: { ref(): { end(text: string): void } };
  ref(): unknown;
  /** Adds the table of what the glyphs stand for to the document. */
  toUnicodeCmap(): unknown;
}

/** pdfkit keeps these to itself; with them a page of words is written several times as fast as through its `text`. */
interface Insides {
  readonly _font: FontInUse;
  readonly page: { readonly fonts: Record<string, unknown> };
}

/**
 * Writes marks as the operators of a page's content (ISO 32000-1, 8.4, 8.5 and 9.4), in points from the top left corner, as
 * pdfkit sets each page up. What the pen is set to already is not said again.
 */
export class Ink {
  private readonly fonts = new Map<Weight, Writer>();
  private page: Page = { width: 0, height: 0, pieces: [] };
  private face = '';
  private fill = '';
  private width = '';
  /** Boxes that are filled alike are filled at once. */
  private filling = false;
  private out: string[] = [];

  constructor(
    private readonly document: PDFKit.PDFDocument,
    private readonly faces: Faces,
  ) {}

  /** Begins a page: a new pen. */
  begin(page: Page): void {
    this.page = page;
    this.face = '';
    this.fill = '';
    this.width = '';
  }

  /** Writes marks onto the page. */
  write(marks: readonly Mark[]): void {
    for (const mark of marks) this.mark(mark);
    this.finishFilling();
    if (this.out.length > 0) this.document.addContent(Buffer.from(`${this.out.join('\n')}\n`, 'latin1'));
    this.out = [];
  }

  private mark(mark: Mark): void {
    if (mark.kind === 'box' && mark.fill) {
      this.fillWith(mark.fill === 'black' ? 0 : 0xee / 0xff);
      this.out.push(`${n(mark.x)} ${n(mark.y)} ${n(mark.w)} ${n(mark.h)} re`);
      this.filling = true;
      return;
    }
    this.finishFilling();
    switch (mark.kind) {
      case 'text': {
        this.fillWith(mark.grey ? 0x55 / 0xff : 0);
        // The space parts lines and cells for those who have the page read to them.
        this.text(`${mark.text} `, mark.x, mark.y + this.faces.of(mark.weight).ascent * mark.size, mark.size, mark.weight);
        break;
      }
      case 'line':
        this.strokeWith(mark.width);
        this.out.push(
          `${mark.dash ? '[4 3] 0 d ' : ''}${n(mark.x)} ${n(mark.y)} m ${n(mark.toX)} ${n(mark.toY)} l S${mark.dash ? ' [] 0 d' : ''}`,
        );
        break;
      case 'box':
        this.strokeWith(mark.width);
        this.out.push(`${n(mark.x)} ${n(mark.y)} ${n(mark.w)} ${n(mark.h)} re S`);
        break;
      case 'circle':
        this.strokeWith(mark.width);
        this.out.push(`${circle(mark.x, mark.y, mark.r)} S`);
        break;
      case 'polygon': {
        if (mark.fill) this.fillWith(0);
        else this.strokeWith(mark.width);
        const corners = mark.points.map(([x, y], index) => `${n(x)} ${n(y)} ${index === 0 ? 'm' : 'l'}`);
        this.out.push(`${corners.join(' ')} h ${mark.fill ? 'f' : 'S'}`);
        break;
      }
      case 'code':
        this.code(mark);
        break;
      case 'across':
        this.across(mark.text);
        break;
    }
  }

  /** Modules as units of a grid, dark runs joined; rows overlap by a hair, so that no viewer shows a gap between them. */
  private code({ x, y, size, dark }: Extract<Mark, { kind: 'code' }>): void {
    this.fillWith(0);
    const module = size / dark.length;
    const runs: string[] = [];
    for (const [line, row] of dark.entries()) {
      for (let start = 0; start < row.length; start++) {
        if (!row[start]) continue;
        let end = start;
        while (row[end + 1]) end++;
        runs.push(`${start} ${line} ${end - start + 1} 1.05 re`);
        start = end;
      }
    }
    this.out.push(`q ${module.toFixed(6)} 0 0 ${module.toFixed(6)} ${n(x)} ${n(y)} cm`, ...runs, 'f Q');
  }

  /** A word behind everything on the page, from corner to corner. */
  private across(text: string): void {
    const { width, height } = this.page;
    const turn = (-52 * Math.PI) / 180;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    this.out.push(`q ${n(cos)} ${n(sin)} ${n(-sin)} ${n(cos)} ${n(width / 2)} ${n(height / 2)} cm`);
    this.face = '';
    this.fill = '';
    this.fillWith(0xdd / 0xff);
    this.text(text, -this.faces.measure.width(text, 150, 'bold') / 2, 50, 150, 'bold');
    this.out.push('Q');
    this.face = '';
    this.fill = '';
  }

  private text(text: string, x: number, y: number, size: number, weight: Weight): void {
    const writer = this.writerOf(weight);
    const face = `/${writer.font.id} ${n(size)} Tf`;
    const parts = [this.face === face ? 'BT' : `BT ${face}`];
    /** @param dx, dy from where the text starts, in thousandths of the size */
    const from = (dx: number, dy: number) => void parts.push(`1 0 0 -1 ${n(x + (dx * size) / 1000)} ${n(y - (dy * size) / 1000)} Tm`);
    let run = '';
    let start = 0;
    let at = 0;
    const finish = () => {
      if (run === '') return;
      from(start, 0);
      parts.push(`[${run.replaceAll('><', '')}] TJ`);
      run = '';
    };
    const space = writer.write(' ');
    const words = text.split(' ');
    for (let index = 0; index < words.length; index++) {
      if (index > 0) {
        if (run === '') start = at;
        run += space.inRow;
        at += space.width * 1000;
      }
      const { width, inRow, places } = writer.write(words[index] ?? '');
      if (places) {
        finish();
        for (const { code, dx, dy } of places) {
          from(at + dx, dy);
          parts.push(`<${code}> Tj`);
        }
      } else if (inRow !== '') {
        if (run === '') start = at;
        run += inRow;
      }
      at += width * 1000;
    }
    finish();
    this.out.push(`${parts.join(' ')} ET`);
    this.face = face;
  }

  private writerOf(weight: Weight): Writer {
    const insides = this.document as unknown as Insides;
    const writer = once(this.fonts, weight, () => {
      this.document.font(weight);
      return new Writer(insides._font, this.faces.of(weight));
    });
    insides.page.fonts[writer.font.id] ??= writer.font.ref();
    return writer;
  }

  /** @param grey 0 black to 1 white */
  private fillWith(grey: number): void {
    const wanted = `${n(grey)} g`;
    if (this.fill === wanted) return;
    this.finishFilling();
    this.out.push(wanted);
    this.fill = wanted;
  }

  private strokeWith(width: number): void {
    const wanted = `${n(width)} w`;
    if (this.width !== wanted) this.out.push(wanted);
    this.width = wanted;
  }

  private finishFilling(): void {
    if (this.filling) this.out.push('f');
    this.filling = false;
  }
}

/** A word in the glyphs of a document. */
interface Written {
  /** In sizes. */
  readonly width: number;
  /** As part of a TJ array (9.4.3): strings, with corrections of the distance between them. */
  readonly inRow: string;
  /** Glyph by glyph, where marks stand above or below others. */
  readonly places: readonly { readonly code: string; readonly dx: number; readonly dy: number }[] | null;
}

/** Words of prepared glyphs, which have the same numbers in every document, by face; null for a word that has others. */
const alikeIn = new WeakMap<Face, Few<string, Alike | null>>();

interface Alike extends Written {
  /** Whether it has none but common letters. */
  readonly isCommon: boolean;
}

/** What the prepared glyphs of a document stand for, as a table of the document, by face and how many they are. */
const tables = new WeakMap<Face, Map<number, string>>();

/** What pdfkit writes into the table of what glyphs stand for. */
function sayingOf({ unicode }: FontInUse, table: () => unknown): string {
  let said = '';
  const end = (text: string) => {
    said = text;
  };
  table.call({ unicode, document: { ref: () => ({ end }) } });
  return said;
}

const hexadecimal = (number: number): string => number.toString(16).padStart(4, '0');

/** Writes words in one face of a document. */
class Writer {
  private readonly alike: Few<string, Alike | null>;
  /** Words with other glyphs, whose numbers are the document's. */
  private readonly known = new Map<string, Written>();
  /** How many of the prepared glyphs the document carries: those of the common letters, or all. */
  private carried = 0;

  constructor(
    readonly font: FontInUse,
    private readonly face: Face,
  ) {
    this.alike = once(alikeIn, face, () => new Few(mostWords));
    this.carry(face.prepared.common);
    const { toUnicodeCmap: table } = font;
    font.toUnicodeCmap = () => {
      const object = font.document.ref();
      const kept = once(tables, face, () => new Map());
      const isAlike = font.unicode.length === 1 + this.carried;
      object.end(isAlike ? once(kept, this.carried, () => sayingOf(font, table)) : sayingOf(font, table));
      return object;
    };
  }

  write(word: string): Written {
    const alike = once(this.alike, word, () => this.writtenAlike(word));
    if (alike?.isCommon) return alike;
    this.carryAll();
    return alike ?? once(this.known, word, () => written(this.face.shape(word), (glyph) => this.codeOf(glyph)));
  }

  /** Each table of the font speaks of all that the document carries. */
  private carry(count: number): void {
    for (const { width, codePoints } of this.face.prepared.glyphs.slice(this.carried, count)) {
      this.font.widths.push(width);
      this.font.unicode.push(codePoints);
    }
    this.carried = count;
  }

  /** The document has a letter that is not common, and so carries all that were prepared. */
  private carryAll(): void {
    const { glyphs } = this.face.prepared;
    if (this.carried === glyphs.length) return;
    this.carry(glyphs.length);
    this.font.subset.includeGlyph(glyphs.at(-1)?.id ?? 0);
  }

  private writtenAlike(word: string): Alike | null {
    const shape = this.face.shape(word);
    const numbers = shape.glyphs.map(({ id }) => this.face.numbers.get(id) ?? Number.POSITIVE_INFINITY);
    const most = Math.max(0, ...numbers);
    if (most === Number.POSITIVE_INFINITY) return null;
    return { ...written(shape, ({ id }) => hexadecimal(this.face.numbers.get(id) ?? 0)), isCommon: most <= this.face.prepared.common };
  }

  /** A glyph's number in the document, as a hexadecimal number; the glyph is taken into it when it is first used. */
  private codeOf({ id, width, codePoints }: GlyphOfFont): string {
    const number = this.font.subset.includeGlyph(id);
    this.font.widths[number] ??= width;
    this.font.unicode[number] ??= codePoints;
    return hexadecimal(number);
  }
}

function written({ width, glyphs, nearer, places }: Shape, codeOf: (glyph: GlyphOfFont) => string): Written {
  const codes = glyphs.map(codeOf);
  let inRow = '<';
  for (let index = 0; index < codes.length; index++) inRow += nearer[index] ? `${codes[index]}>${n(nearer[index] ?? 0)}<` : codes[index];
  return {
    width,
    inRow: `${inRow}>`.replaceAll('<>', ''),
    places: places?.map(([dx, dy], index) => ({ code: codes[index] ?? '0000', dx, dy })) ?? null,
  };
}

/** A number as PDF writes it: no exponents, a thousandth of a point is enough. */
const n = (value: number): string => String(Math.round(value * 1000) / 1000);

/** A circle of four Bézier curves: the control points that come nearest lie at 4/3 × (√2 − 1) of the radius (common practice, no source). */
function circle(x: number, y: number, r: number): string {
  const k = (r * 4 * (Math.SQRT2 - 1)) / 3;
  const curve = (...points: number[]) => `${points.map(n).join(' ')} c`;
  return [
    `${n(x + r)} ${n(y)} m`,
    curve(x + r, y + k, x + k, y + r, x, y + r),
    curve(x - k, y + r, x - r, y + k, x - r, y),
    curve(x - r, y - k, x - k, y - r, x, y - r),
    curve(x + k, y - r, x + r, y - k, x + r, y),
    'h',
  ].join(' ');
}
