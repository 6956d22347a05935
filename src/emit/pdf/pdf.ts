import { marksOf, type Mark, type Page, type Paper, type Piece, type Tag, type Weight } from '../../layout/page.js';
import { type Faces, refuseMissing } from './fonts.js';
import { Ink } from './ink.js';
import { packingOnce } from './packing.js';
import { WholeDocument } from './whole-document.js';

/** What identifies a document beside its pages; the date is the job's, never the clock's, so that bytes repeat. */
export interface PdfInfo {
  readonly date: string;
  readonly author: string;
  readonly keywords: string;
  /** The compiled job, carried along as a file of its own. */
  readonly attachment?: { readonly name: string; readonly text: string; readonly says: string };
}

/** Draws pages into a PDF. The only place that knows pdfkit. */
export function pdfOf(paper: Paper, faces: Faces, info: PdfInfo): Buffer {
  refuseMissing(paper.pages.flatMap(textsOf));
  const created = new Date(`${info.date}T00:00:00Z`);
  const first = paper.pages[0];
  const document = new WholeDocument({
    autoFirstPage: false,
    ...noOtherFont,
    size: first ? [first.width, first.height] : 'A4',
    margin: 0,
    lang: paper.language,
    displayTitle: true,
    info: {
      Title: paper.title,
      Subject: paper.subject,
      Author: info.author,
      Keywords: info.keywords,
      Creator: 'baywright',
      Producer: 'baywright',
      CreationDate: created,
      ModDate: created,
    },
    pdfVersion: '1.7',
    tagged: true,
    ...accessible,
  });
  for (const weight of ['regular', 'semibold', 'bold'] as const) document.registerFont(weight, fontSource(faces, weight));
  if (info.attachment) {
    const { name, text, says } = info.attachment;
    const options = {
      name,
      type: 'application/json',
      description: says,
      creationDate: created,
      modifiedDate: created,
      relationship: 'Data',
    };
    packingOnce(document, () => document.file(Buffer.from(text), options));
  }
  const root = document.struct('Document', { title: paper.title, lang: paper.language });
  document.addStructure(root);
  const drawing = new Drawing(document, faces, root);
  for (const page of paper.pages) drawing.page(page);
  drawing.end();
  root.end();
  packingOnce(document, () => document.end());
  return document.whole();
}

/** Claims ISO 14289-1 (PDF/UA-1). What that asks of the file is checked in tests/accessible.test.ts. */
const accessible = { subset: 'PDF/UA' } as unknown as { subset: PDFKit.Mixins.PDFSubsets };

/** Without it pdfkit makes its own Helvetica for each document, which is never used. */
const noOtherFont = { font: null } as unknown as { font: string };

type Structure = PDFKit.PDFStructureElement;

function textsOf(page: Page): string[] {
  const texts: string[] = [];
  for (const mark of marksOf(page.pieces)) if (mark.kind === 'text' || mark.kind === 'across') texts.push(mark.text);
  return texts;
}

const hasText = (marks: readonly Mark[]): boolean => marks.some((mark) => mark.kind === 'text');

/**
 * Draws pages and tags what is drawn: headings, paragraphs, tables with header cells, figures with what they show in
 * words. Lines and what stands on every page are artifacts. A table that goes on over pages stays one table.
 */
class Drawing {
  private table: { readonly of: object; readonly structure: Structure } | null = null;
  private outline: PDFKit.PDFOutline | null = null;
  private readonly ink: Ink;

  constructor(
    private readonly document: PDFKit.PDFDocument,
    faces: Faces,
    private readonly root: Structure,
  ) {
    this.ink = new Ink(document, faces);
  }

  page(page: Page): void {
    this.document.addPage({ size: [page.width, page.height], margin: 0 });
    this.ink.begin(page);
    this.pieces(page.pieces, this.root);
  }

  end(): void {
    this.endTable();
  }

  private pieces(pieces: readonly Piece[], parent: Structure): void {
    let loose: Mark[] = [];
    const flush = () => {
      if (loose.length > 0) this.artifact(loose);
      loose = [];
    };
    for (const piece of pieces) {
      if (piece.kind !== 'element') {
        loose.push(piece);
        continue;
      }
      flush();
      if (piece.tag === 'Artifact') this.artifact(marksOf(piece.children));
      else if (piece.tag === 'TR' && piece.table) this.row(piece.children, piece.table, parent);
      else {
        if (parent === this.root) this.endTable();
        if (piece.tag === 'Div') this.pieces(piece.children, parent);
        else this.leaf(piece.tag, piece, parent);
      }
    }
    flush();
    if (parent !== this.root) this.endTable();
  }

  /** A paragraph, heading or figure; a box without words is drawn and not read. */
  private leaf(tag: Tag, piece: Extract<Piece, { kind: 'element' }>, parent: Structure): void {
    const marks = marksOf(piece.children);
    if (!piece.alt && !hasText(marks)) {
      this.artifact(marks);
      return;
    }
    if (tag === 'H1' || tag === 'H2') this.enter(tag, piece.text ?? '');
    const { area } = piece;
    const bbox = area ? ([area.x, area.y, area.x + area.w, area.y + area.h] as const) : null;
    parent.add(this.document.struct(tag, bbox ? { alt: piece.alt ?? '', bbox } : {}, () => this.ink.write(marks)));
  }

  private row(cells: readonly Piece[], of: object, parent: Structure): void {
    if (this.table?.of !== of) {
      this.endTable();
      this.table = { of, structure: this.document.struct('Table') };
      parent.add(this.table.structure);
    }
    const row = this.document.struct('TR');
    this.table.structure.add(row);
    for (const cell of cells) {
      if (cell.kind !== 'element') {
        this.artifact([cell]);
        continue;
      }
      const structure = this.document.struct(cell.tag, cell.tag === 'TH' ? { scope: 'Column' } : {});
      row.add(structure);
      const marks = marksOf(cell.children);
      if (hasText(marks)) structure.add(() => this.ink.write(marks));
      else this.artifact(marks);
      structure.end();
    }
    row.end();
  }

  private endTable(): void {
    this.table?.structure.end();
    this.table = null;
  }

  /** Headings make the outline that a reader's program shows beside the pages. */
  private enter(tag: 'H1' | 'H2', text: string): void {
    if (tag === 'H1' || !this.outline) this.outline = this.document.outline.addItem(text, { expanded: true });
    else this.outline.addItem(text);
  }

  /** What stands on every page and lines that carry no words: readers pass over it. */
  private artifact(marks: readonly Mark[]): void {
    this.document.markContent('Artifact', { type: 'Layout' });
    this.ink.write(marks);
    this.document.endMarkedContent();
  }
}

/** pdfkit takes an object that answers as a font of fontkit does; its types do not say so yet. */
const fontSource = (faces: Faces, weight: Weight): PDFKit.Mixins.PDFFontSource =>
  faces.of(weight).forPdf as unknown as PDFKit.Mixins.PDFFontSource;
