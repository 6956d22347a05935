import { create, type Font } from 'fontkit';
import type { Measure, Weight } from '../../layout/page.js';
import { CannotRun } from '../../world/world.js';

/** The three faces that paper uses, opened once for all documents of a run. */
export interface Faces {
  readonly measure: Measure;
  readonly of: (weight: Weight) => Font;
}

const weights: readonly Weight[] = ['regular', 'semibold', 'bold'];

/** @param files TrueType data by weight */
export function openFaces(files: Readonly<Record<Weight, Buffer>>): Faces {
  const fonts = new Map<Weight, Font>();
  for (const weight of weights) {
    const font = create(files[weight]);
    if (font.type !== 'TTF' && font.type !== 'WOFF' && font.type !== 'WOFF2') throw new Error('the font file is a collection');
    fonts.set(weight, remembering(font as Font));
  }
  const of = (weight: Weight): Font => {
    const font = fonts.get(weight);
    if (!font) throw new Error(`no face ${weight}`);
    return font;
  };
  const widths = new Map<string, number>();
  const widthOf = (piece: string, weight: Weight): number => {
    const key = `${weight}\0${piece}`;
    let units = widths.get(key);
    if (units === undefined) {
      units = of(weight).layout(piece).advanceWidth / of(weight).unitsPerEm;
      if (widths.size > mostRuns) widths.clear();
      widths.set(key, units);
    }
    return units;
  };
  return {
    of,
    measure: {
      // Word by word with the space behind each, as pdfkit draws them: what is measured is what is drawn.
      width(text, size, weight) {
        let units = 0;
        let from = 0;
        for (let space = text.indexOf(' '); space >= 0; space = text.indexOf(' ', from)) {
          units += widthOf(text.slice(from, space + 1), weight);
          from = space + 1;
        }
        if (from < text.length) units += widthOf(text.slice(from), weight);
        return units * size;
      },
    },
  };
}

/** Runs that are remembered for each face; a shop's words are far fewer, and memory stays bounded over any number of jobs. */
const mostRuns = 20_000;

/** Setting a word into glyphs is most of the work of a page, and the same words return on every page and in every job. */
function remembering(font: Font): Font {
  const known = new Map<string, ReturnType<Font['layout']>>();
  const set = font.layout.bind(font);
  font.layout = (text, ...how) => {
    if (how.some((one) => one !== undefined)) return set(text, ...how);
    let run = known.get(text);
    if (!run) {
      run = set(text);
      if (known.size >= mostRuns) known.clear();
      known.set(text, run);
    }
    // Who draws scales the positions in place: everyone gets their own.
    const positions = run.positions.map((position) => ({ ...position }));
    return Object.create(run, { positions: { value: positions, enumerable: true } }) as typeof run;
  };
  return font;
}

/** Characters that are known to have a glyph, by face. */
const covered = new WeakMap<Faces, Set<string>>();

/** A character that the font lacks is refused: a box on paper where a figure belongs could be anything. */
export function refuseMissing(faces: Faces, texts: Iterable<string>): void {
  const missing = new Map<string, string>();
  const good = covered.get(faces) ?? new Set<string>();
  covered.set(faces, good);
  for (const text of texts)
    for (const character of text) {
      if (good.has(character) || missing.has(character)) continue;
      if (faces.of('regular').hasGlyphForCodePoint(character.codePointAt(0) ?? 0)) good.add(character);
      else missing.set(character, text);
    }
  if (missing.size === 0) return;
  const named = [...missing]
    .slice(0, 5)
    .map(
      ([character, text]) =>
        `“${character}” (U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}) in “${text.slice(0, 60)}”`,
    );
  throw new CannotRun(
    `The font of the paper lacks ${missing.size === 1 ? 'a character' : 'characters'} that this job uses: ${named.join('; ')}. Write it in other letters.`,
  );
}
