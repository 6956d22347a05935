// What is written onto a page by hand (src/emit/pdf/ink.ts) against the same drawn by pdfkit's own methods, as pictures.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { create } from 'fontkit';
import PDFDocument from 'pdfkit';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { afterAll, describe, expect, it } from 'vitest';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { pdfOf } from '../src/emit/pdf/pdf.js';
import type { Mark, Weight } from '../src/layout/page.js';
import { qrCode } from '../src/layout/qr.js';
import { readFonts } from '../src/world/fonts.js';
import { projectFolder } from './helpers/shop.js';

const poppler = spawnSync('pdftoppm', ['-v']).error === undefined;
if (!poppler) console.warn('SKIPPED: poppler-utils is not installed; what is written by hand is not compared with pdfkit as pictures.');
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-ink-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

const files = readFonts(path.join(projectFolder, 'dist/fonts'));
const faces = openFaces(files);
const [width, height] = [420, 300];

function byUs(marks: readonly Mark[]): Buffer {
  const paper = { title: 'Ink', subject: '', language: 'en', pages: [{ width, height, pieces: marks }], content: [] };
  return pdfOf(paper, faces, { date: '2026-01-01', author: '', keywords: '' });
}

async function byPdfkit(marks: readonly Mark[]): Promise<Buffer> {
  const document = new PDFDocument({ size: [width, height], margin: 0 });
  const chunks: Buffer[] = [];
  document.on('data', (chunk: Buffer) => chunks.push(chunk));
  const done = new Promise((resolve) => document.on('end', resolve));
  for (const weight of ['regular', 'semibold', 'bold'] as const) document.registerFont(weight, files[weight].whole());
  for (const mark of marks) {
    const fill = 'fill' in mark ? mark.fill : undefined;
    if ('width' in mark) document.lineWidth(mark.width).strokeColor('black');
    document.fillColor(fill === 'light' ? '#eeeeee' : 'black');
    switch (mark.kind) {
      case 'text': {
        const font = create(files[mark.weight].whole());
        if (!('ascent' in font)) throw new Error('no face');
        const baseline = mark.y + (font.ascent / font.unitsPerEm) * mark.size;
        document
          .font(mark.weight)
          .fontSize(mark.size)
          .fillColor(mark.grey ? '#555555' : 'black');
        document.text(mark.text, mark.x, baseline, { lineBreak: false, baseline: 'alphabetic' });
        break;
      }
      case 'line':
        if (mark.dash) document.dash(4, { space: 3 });
        document.moveTo(mark.x, mark.y).lineTo(mark.toX, mark.toY).stroke();
        if (mark.dash) document.undash();
        break;
      case 'box':
        document.rect(mark.x, mark.y, mark.w, mark.h);
        if (fill) document.fill();
        else document.stroke();
        break;
      case 'circle':
        document.circle(mark.x, mark.y, mark.r).stroke();
        break;
      case 'polygon':
        document.polygon(...mark.points.map(([x, y]) => [x, y]));
        if (fill) document.fill();
        else document.stroke();
        break;
      case 'code': {
        const module = mark.size / mark.dark.length;
        for (const [line, row] of mark.dark.entries())
          for (const [column, dark] of row.entries())
            if (dark) document.rect(mark.x + column * module, mark.y + line * module, module, module);
        document.fill();
        break;
      }
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
  document.end();
  await done;
  return Buffer.concat(chunks);
}

function picture(name: string, pdf: Buffer): PNG {
  const file = path.join(folder, name);
  fs.writeFileSync(`${file}.pdf`, pdf);
  spawnSync('pdftoppm', ['-r', '144', '-gray', '-png', '-singlefile', `${file}.pdf`, file]);
  return PNG.sync.read(fs.readFileSync(`${file}.png`));
}

const words = (texts: readonly string[], weight: Weight, size: number): Mark[] =>
  texts.map((text, line) => ({ kind: 'text', x: 12, y: 10 + line * size * 1.5, size, weight, text, grey: line % 3 === 2 }));

const cases: readonly (readonly [string, readonly Mark[]])[] = [
  [
    'words with kerning and ligatures',
    words(['AVATAR To Yes, WAVE 1.1', 'fit the first office filter, flush', 'M10 × 1.25, 89 N·m ±5 %, 110°'], 'regular', 18),
  ],
  ['words in bold and Greek and Polish', words(['Γρανάζι ΑΥΤΟ ΤΑ', 'Łożysko piasty, źródło', 'Ölablassschraube ÄÖÜß'], 'bold', 18)],
  ['marks that stand above and below their letters', words(['x̂ y̌ after, q̣̂ W̊ z', 'Ạ́ under, é ö alone'], 'semibold', 20)],
  [
    'lines, boxes, circles and signs',
    [
      { kind: 'box', x: 20, y: 20, w: 120, h: 40, width: 0, fill: 'light' },
      { kind: 'box', x: 30, y: 30, w: 20, h: 20, width: 0, fill: 'black' },
      { kind: 'box', x: 60, y: 30, w: 20.4567, h: 20, width: 0, fill: 'black' },
      { kind: 'box', x: 90, y: 30, w: 17, h: 17, width: 1.2 },
      { kind: 'line', x: 20, y: 80, toX: 380, toY: 80, width: 0.5 },
      { kind: 'line', x: 20, y: 90, toX: 380, toY: 130, width: 2, dash: true },
      { kind: 'line', x: 20, y: 140, toX: 380, toY: 140, width: 2 },
      { kind: 'circle', x: 80, y: 210, r: 33.3, width: 1 },
      {
        kind: 'polygon',
        points: [
          [150, 240],
          [180, 180],
          [210, 240],
        ],
        width: 2,
      },
      {
        kind: 'polygon',
        points: [
          [250, 240],
          [280, 180],
          [310, 240],
        ],
        width: 0,
        fill: 'black',
      },
    ],
  ],
  ['a code', [qrCode('BW 2041 3/14 0123456789abcdef', 2, 40, 40, 210)]],
  ['a word across the page, and words after it', [{ kind: 'across', text: 'DRAFT' }, ...words(['after it', 'and after that'], 'bold', 12)]],
];

describe.skipIf(!poppler)('a page written by hand looks as pdfkit draws it', () => {
  it.each(cases)('%s', async (_, marks) => {
    const ours = picture('ours', byUs(marks));
    const theirs = picture('theirs', await byPdfkit(marks));
    expect([ours.width, ours.height]).toEqual([theirs.width, theirs.height]);
    const black = (one: PNG) => one.data.filter((value, index) => index % 4 === 0 && value < 128).length;
    expect(black(theirs) + theirs.data.filter((value, index) => index % 4 === 0 && value < 230).length).toBeGreaterThan(500);
    // Numbers are rounded in another place: an edge may be a shade lighter, and nothing moves.
    expect(pixelmatch(ours.data, theirs.data, undefined, ours.width, ours.height, { threshold: 0.15 })).toBeLessThan(12);
  });
});

it('a word is shaped as fontkit shapes it', () => {
  const signs = Array.from({ length: 0x100 - 0x21 }, (_, n) => String.fromCharCode(0x21 + n)).filter((sign) => !/[\x7f-\x9f]/.test(sign));
  const pairs = signs.flatMap((one) => signs.map((other) => one + other));
  const others = ['office', 'fjord', 'baffle', 'flach', 'affiliate', '1/2', '10/9', '½', 'e\u0301', 'A\u030a', 'Ångström', 'Привет', 'Ωhm'];
  for (const weight of ['regular', 'semibold', 'bold'] as const) {
    const font = faces.of(weight).whole;
    for (const word of weight === 'regular' ? [...pairs, ...others] : others) {
      const { glyphs, width } = faces.shape(word, weight);
      const whole = font.layout(word);
      const same = glyphs.length === whole.glyphs.length && glyphs.every(({ id }, n) => id === whole.glyphs[n]?.id);
      if (!same || Math.abs(width - whole.advanceWidth / font.unitsPerEm) > 1e-9) expect.fail(`${word} in ${weight}`);
    }
  }
}, 60_000);

it('what a document says of its letters does not depend on what was printed before it', () => {
  const text = (words: string): Mark[] => [{ kind: 'text', x: 20, y: 20, text: words, size: 11, weight: 'regular' }];
  const print = (words: string, with_: typeof faces) =>
    pdfOf({ title: 'Ink', subject: '', language: 'en', pages: [{ width, height, pieces: text(words) }], content: [] }, with_, {
      date: '2026-01-01',
      author: '',
      keywords: '',
    });
  const used = openFaces(files);
  for (const before of ['470 é –', '\u2126 \u0394 \u00a0']) print(before, used);
  for (const words of ['47\u03a9', 'e\u0301\u0394', '\u2206\u2126 x\u00a0y', 'Łódź'])
    expect(print(words, used).equals(print(words, openFaces(files))), words).toBe(true);
});
