// What was asked of the font when the tool was built (src/emit/pdf/prepared.ts) against fontkit itself.
import path from 'node:path';
import zlib from 'node:zlib';
import fc from 'fast-check';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { create } from 'fontkit';
import { openFaces, openFont, shapeOf, weights } from '../src/emit/pdf/fonts.js';
import { pdfOf } from '../src/emit/pdf/pdf.js';
import { preparedFrom } from '../src/emit/pdf/prepared.js';
import { notInFont } from '../src/layout/characters.js';
import { readFonts } from '../src/world/fonts.js';
import { demoTexts, projectFolder } from './helpers/shop.js';

const files = readFonts(path.join(projectFolder, 'dist/fonts'));
const fonts = weights.map((weight) => openFont(files[weight].whole()));
const prepared = weights.map((weight) => preparedFrom(files[weight].prepared));

it('a check knows the characters that the faces have, all of them and no other', () => {
  const whole = fonts.map((font) => new Set(font.characterSet));
  for (let code = 0x20; code < 0x30000; code++) {
    if ((code >= 0x7f && code <= 0x9f) || (code >= 0xd800 && code <= 0xdfff)) continue;
    const character = String.fromCodePoint(code);
    if ((notInFont(character).length === 0) !== whole.every((face) => face.has(code)))
      expect(`U+${code.toString(16)}`).toBe('as the font has it');
  }
  expect(notInFont('a 🐦 b\n🐦 c ж\t✅')).toEqual(['🐦', '✅']);
});

describe('words set by pairs of letters', () => {
  it('every word of the demo stands as fontkit sets it, in each face, and none is left to fontkit', () => {
    const words = new Set(Object.values(demoTexts()).flatMap((text) => text.split(/\s+/)));
    expect(words.size).toBeGreaterThan(2000);
    for (const [n, font] of fonts.entries()) for (const word of words) expect(prepared[n]?.set(word), word).toEqual(shapeOf(font, word));
  });

  it('any letters in a row stand as fontkit sets them', () => {
    const letter = fc.oneof(
      fc.integer({ min: 0x20, max: 0x7e }).map((code) => String.fromCharCode(code)),
      fc.integer({ min: 0xa0, max: 0x17f }).map((code) => String.fromCharCode(code)),
      fc.constantFrom(...'ffilLTVAWYo–—‘’“”„…•−≤≥→←′″ΩΔμφẞȘșȚț‚‹›€№™⅓⅜√≈'),
    );
    let set = 0;
    fc.assert(
      fc.property(fc.array(letter, { minLength: 1, maxLength: 12 }), fc.integer({ min: 0, max: 2 }), (letters, n) => {
        const [font, word] = [fonts[n], letters.join('')];
        const shape = prepared[n]?.set(word) ?? null;
        if (!font || shape === null) return;
        set++;
        expect(shape).toEqual(shapeOf(font, word));
      }),
      { numRuns: 3000, seed: 1 },
    );
    expect(set).toBeGreaterThan(2500);
  });

  it('a Greek letter is set alone and in a Latin word; a Greek word, and what is no such letter, are left to fontkit', () => {
    for (const [n, font] of fonts.entries())
      for (const word of ['Α', 'Ω', 'α', 'φ', 'μ', '\u2126', 'M\u2126,', 'MΩ,', '(kΩ)', 'λ'])
        expect(prepared[n]?.set(word), word).toEqual(shapeOf(font, word));
    for (const word of ['μm', '5Ω', 'Смазка', 'Ước', 'soft\u00adhyphen', 'e\u0301', '日', '😀'])
      expect(prepared[0]?.set(word), word).toBeNull();
  });
});

describe('the subset of the font that goes into a document', () => {
  const print = (text: string, faces = openFaces(files)) => {
    const pieces = [{ kind: 'text', x: 20, y: 20, text, size: 11, weight: 'bold' }] as const;
    const paper = { title: 'Subset', subject: '', language: 'en', pages: [{ width: 400, height: 100, pieces }], content: [] };
    return pdfOf(paper, faces, { date: '2026-01-01', author: '', keywords: '' });
  };

  it('a character that the font lacks is refused by name, never drawn as a box', () => {
    expect(() => print('30 N·m 日')).toThrow('lacks a character that this job uses: “日” (U+65E5) in “30 N·m 日”');
    expect(() => print('a\tb\u0007')).toThrow('lacks characters that this job uses');
    expect(print('Ω μ Łódź ≥ Ж')).toBeInstanceOf(Buffer);
  });

  it('draws each letter as the whole font does, and as wide', () => {
    for (const [n, font] of fonts.entries()) {
      const { glyphs = [], common = 0, subsets } = prepared[n] ?? {};
      expect(common).toBeGreaterThan(120);
      expect(glyphs.length).toBeGreaterThan(400);
      for (const [some, packed] of [[glyphs.slice(0, common), subsets?.common] as const, [glyphs, subsets?.all] as const]) {
        const subset = create(zlib.inflateSync(packed ?? Buffer.alloc(0)));
        if (!('getGlyph' in subset)) throw new Error('no face');
        expect(subset.numGlyphs).toBeGreaterThan(some.length);
        for (const [place, { id, width, codePoints }] of some.entries()) {
          const [drawn, whole] = [subset.getGlyph(place + 1), font.getGlyph(id)];
          expect(drawn.path.toSVG(), String.fromCodePoint(...codePoints)).toBe(whole.path.toSVG());
          expect(drawn.advanceWidth).toBe(whole.advanceWidth);
          expect(width).toBeCloseTo((whole.advanceWidth * 1000) / font.unitsPerEm, 9);
          expect(font.glyphForCodePoint(codePoints[0] ?? 0).id === id || codePoints.length > 1).toBe(true);
        }
      }
    }
  });

  it('is that of the common letters, or that of all prepared ones, or one that has others too', async () => {
    const inside = async (pdf: Uint8Array) => {
      const page = await (await getDocument({ data: new Uint8Array(pdf) }).promise).getPage(1);
      const { items } = await page.getTextContent();
      return items
        .map((item) => ('str' in item ? item.str : ''))
        .join('')
        .trim();
    };
    let opened = 0;
    const whole = () => {
      opened++;
      return files.bold.whole();
    };
    const counted = openFaces({ ...files, bold: { ...files.bold, whole } });
    const sizes: number[] = [];
    // Each twice, and those with more letters before and after those with fewer: documents leave nothing behind for the next.
    const texts = ['89.5 N·m, 2 × M12', 'Łódź 5 Ω ñandú åäö', 'Смазка Łódź', 'office ȘțΔ', 'Kühlmittel ablassen – 7,8 L'];
    for (const text of [...texts, ...texts.toReversed()]) {
      const pdf = print(text, counted);
      expect(await inside(pdf)).toBe(text);
      sizes.push(pdf.length);
      if (sizes.length === 2) expect(opened).toBe(0);
    }
    expect(opened).toBe(1);
    expect(sizes.slice(5)).toEqual(sizes.slice(0, 5).toReversed());
    const [usual = 0, wide = 0, whatElse = 0] = sizes;
    expect(wide - usual).toBeGreaterThan(8000);
    expect(whatElse).toBeGreaterThan(wide);
  });

  it('files that do not belong together are refused when it comes to that, and damaged ones at once', () => {
    const mixed = openFaces({ ...files, bold: { ...files.bold, whole: files.semibold.whole } });
    expect(() => print('Смазка', mixed)).toThrow('do not belong together');
    for (const prepared of [Buffer.alloc(0), Buffer.alloc(100), files.bold.prepared.subarray(1), files.bold.prepared.subarray(0, -1)])
      expect(() => openFaces({ ...files, bold: { ...files.bold, prepared } })).toThrow('do not belong together');
  });
});
