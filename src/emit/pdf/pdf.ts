import PDFDocument from 'pdfkit';
import type { Mark, Paper, Weight } from '../../layout/page.js';
import { type Faces, refuseMissing } from './fonts.js';

/** What identifies a document beside its pages; the date is the job's, never the clock's, so that bytes repeat. */
export interface PdfInfo {
  readonly date: string;
  readonly author: string;
  readonly keywords: string;
  /** The compiled job, carried along as a file of its own. */
  readonly attachment?: { readonly name: string; readonly text: string; readonly says: string };
}

/** Draws pages into a PDF. The only place that knows pdfkit. */
export async function pdfOf(paper: Paper, faces: Faces, info: PdfInfo): Promise<Buffer> {
  refuseMissing(
    faces,
    paper.pages.flatMap((page) => page.marks.flatMap((mark) => (mark.kind === 'text' || mark.kind === 'across' ? [mark.text] : []))),
  );
  const created = new Date(`${info.date}T00:00:00Z`);
  const first = paper.pages[0];
  const document = new PDFDocument({
    autoFirstPage: false,
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
  });
  const chunks: Buffer[] = [];
  document.on('data', (chunk: Buffer) => chunks.push(chunk));
  const done = new Promise<void>((resolve, reject) => {
    document.on('end', resolve);
    document.on('error', reject);
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
    document.file(Buffer.from(text), options);
  }
  const root = document.struct('Document', { title: paper.title, lang: paper.language });
  document.addStructure(root);
  for (const page of paper.pages) {
    document.addPage({ size: [page.width, page.height], margin: 0 });
    const drawAll = (marks: readonly Mark[]) => {
      for (const mark of marks) draw(document, mark, faces, page.width, page.height);
    };
    const first = page.parts[0]?.from ?? page.marks.length;
    asArtifact(document, () => drawAll(page.marks.slice(0, first)));
    let at = first;
    for (const part of page.parts) {
      if (part.from > at) {
        const marks = page.marks.slice(at, part.from);
        asArtifact(document, () => drawAll(marks));
      }
      const marks = page.marks.slice(part.from, part.to);
      if (marks.some((mark) => mark.kind === 'text'))
        root.add(document.struct(part.tag === 'TR' ? 'P' : part.tag, {}, () => drawAll(marks)));
      else asArtifact(document, () => drawAll(marks));
      at = part.to;
    }
  }
  root.end();
  document.end();
  await done;
  return Buffer.concat(chunks);
}

/** What stands on every page and lines that carry no words: readers pass over it. */
function asArtifact(document: PDFKit.PDFDocument, paint: () => void): void {
  document.markContent('Artifact', { type: 'Layout' });
  paint();
  document.endMarkedContent();
}

/** pdfkit takes a font that fontkit opened; its types do not say so yet. */
const fontSource = (faces: Faces, weight: Weight): PDFKit.Mixins.PDFFontSource =>
  faces.of(weight) as unknown as PDFKit.Mixins.PDFFontSource;

function draw(document: PDFKit.PDFDocument, mark: Mark, faces: Faces, width: number, height: number): void {
  switch (mark.kind) {
    case 'text': {
      const font = faces.of(mark.weight);
      const baseline = mark.y + (font.ascent / font.unitsPerEm) * mark.size;
      document
        .font(mark.weight)
        .fontSize(mark.size)
        .fillColor(mark.grey ? '#555555' : 'black');
      // The space parts lines and cells for those who have the page read to them.
      document.text(`${mark.text} `, mark.x, baseline, { lineBreak: false, baseline: 'alphabetic' });
      break;
    }
    case 'line':
      if (mark.dash) document.dash(4, { space: 3 });
      document.lineWidth(mark.width).strokeColor('black').moveTo(mark.x, mark.y).lineTo(mark.toX, mark.toY).stroke();
      if (mark.dash) document.undash();
      break;
    case 'box':
      document.rect(mark.x, mark.y, mark.w, mark.h);
      if (mark.fill) document.fillColor(mark.fill === 'black' ? 'black' : '#eeeeee').fill();
      else document.lineWidth(mark.width).strokeColor('black').stroke();
      break;
    case 'circle':
      document.circle(mark.x, mark.y, mark.r).lineWidth(mark.width).strokeColor('black').stroke();
      break;
    case 'polygon':
      document.polygon(...mark.points.map(([x, y]) => [x, y]));
      if (mark.fill) document.fillColor('black').fill();
      else document.lineWidth(mark.width).lineJoin('miter').strokeColor('black').stroke();
      break;
    case 'across':
      document.save();
      document.rotate(-52, { origin: [width / 2, height / 2] });
      document.font('bold').fontSize(150).fillColor('#dddddd');
      document.text(mark.text, width / 2 - document.widthOfString(mark.text) / 2, height / 2 + 50, {
        lineBreak: false,
        baseline: 'alphabetic',
      });
      document.restore();
      break;
  }
}
