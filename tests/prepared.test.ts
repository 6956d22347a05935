// Words set by what was asked of fontkit two letters at a time (src/emit/pdf/pairs.ts) against fontkit itself.
import fs from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openFont, shapeOf, weights } from '../src/emit/pdf/fonts.js';
import { setterOf } from '../src/emit/pdf/pairs.js';
import { readFonts } from '../src/world/fonts.js';
import { demoTexts, projectFolder } from './helpers/shop.js';

const files = readFonts(path.join(projectFolder, 'dist/fonts'));
const fonts = weights.map((weight) => openFont(files[weight]));
const setters = fonts.map((font, n) => setterOf(files.pairs, n, font));

describe('words set by pairs of letters', () => {
  it('every word of the demo stands as fontkit sets it, in each face, and none but Greek is left to fontkit', () => {
    const words = new Set(
      Object.values(demoTexts())
        .flatMap((text) => text.split(/\s+/))
        .filter((word) => !/[Ωμ]/.test(word)),
    );
    expect(words.size).toBeGreaterThan(2000);
    for (const [n, font] of fonts.entries()) for (const word of words) expect(setters[n]?.(word), word).toEqual(shapeOf(font, word));
  });

  it('any letters in a row stand as fontkit sets them', () => {
    const letter = fc.oneof(
      fc.integer({ min: 0x20, max: 0x7e }).map((code) => String.fromCharCode(code)),
      fc.integer({ min: 0xa0, max: 0xff }).map((code) => String.fromCharCode(code)),
      fc.constantFrom(...'ffilLTVAWYo–—‘’“”„…•−≤≥→←′″Ωμ'),
    );
    let set = 0;
    fc.assert(
      fc.property(fc.array(letter, { minLength: 1, maxLength: 12 }), fc.integer({ min: 0, max: 2 }), (letters, n) => {
        const [font, word] = [fonts[n], letters.join('')];
        const shape = setters[n]?.(word) ?? null;
        if (!font || shape === null) return;
        set++;
        expect(shape).toEqual(shapeOf(font, word));
      }),
      { numRuns: 3000, seed: 1 },
    );
    expect(set).toBeGreaterThan(2500);
  });

  it('what is no such letter is left to fontkit, and so is everything where the font is another', () => {
    for (const word of ['Łódź', 'soft\u00adhyphen', 'e\u0301', '日', '😀', 'μm', '5Ω']) expect(setters[0]?.(word), word).toBeNull();
    const [regular, semibold] = fonts;
    if (!regular || !semibold) throw new Error('no fonts');
    expect(setterOf(files.pairs, 0, semibold)('bolt')).toBeNull();
    expect(setterOf(files.pairs.subarray(0, 100), 0, regular)('bolt')).toBeNull();
    expect(setterOf(Buffer.alloc(0), 2, regular)('bolt')).toBeNull();
    expect(fs.statSync(path.join(projectFolder, 'dist/fonts/pairs.bin')).size).toBe(files.pairs.length);
  });
});
