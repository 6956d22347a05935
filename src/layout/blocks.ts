import { type Element, element, type Limit, type Mark, type Measure, type Piece, shift, type Weight, type WorkedOut } from './page.js';
import { box, leading, rule, sizes } from './style.js';

/** A piece of content of known height, its marks relative to its own top left corner. Never split by a page break. */
export interface Block {
  readonly height: number;
  readonly pieces: readonly Piece[];
  /** Stays on the page of the block that follows: a heading, a caution. */
  readonly keepWithNext?: boolean;
  /** Set again above it where it begins a page: the head of its table. */
  readonly head?: Block;
  /** Begins a new page. */
  readonly newPage?: boolean;
  /** Repeated at the top of each page until another takes its place; null ends it. */
  readonly running?: string | null;
  /** The step that ends here, for the foot of the page; null where what is worked from ends. */
  readonly step?: number | null;
}

export interface Style {
  readonly size: number;
  readonly weight: Weight;
}

export const plainStyle: Style = { size: sizes.text, weight: 'regular' };
export const smallStyle: Style = { size: sizes.small, weight: 'regular' };
export const leastStyle: Style = { size: sizes.least, weight: 'regular' };
export const strongStyle: Style = { size: sizes.text, weight: 'semibold' };
export const figureStyle: Style = { size: sizes.torque, weight: 'bold' };

/** Never parts a number from its unit. */
const joinUnits = (text: string): string =>
  text.replace(/(\d) (N·m|lbf·ft|lbf·in|mm|mL|L|°C|%|bar|min|h|kg|km|s|d|g|deg|AF)(?![\p{L}\d])/gu, '$1\u00a0$2');

/** Lines of a text that fit a width; a word longer than the width is parted behind a hyphen, or else with one. */
export function lines(measure: Measure, text: string, width: number, style: Style): string[] {
  const widthOf = (part: string) => (part.length > mostLetters ? Number.POSITIVE_INFINITY : measure.width(part, style.size, style.weight));
  const fits = (part: string) => widthOf(part) <= width;
  const gap = widthOf(' ');
  const result: string[] = [];
  const written = text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text;
  for (const paragraph of joinUnits(written).split('\n')) {
    let line = '';
    let used = 0;
    for (const word of paragraph.split(/[ \t]+/)) {
      if (word === '') continue;
      const needs = widthOf(word);
      const longer = line === '' ? needs : used + gap + needs;
      if (longer <= width) {
        line = line === '' ? word : `${line} ${word}`;
        used = longer;
        continue;
      }
      if (line !== '') result.push(line);
      line = word;
      while (!fits(line)) {
        const [head, rest] = parted(line, fits);
        result.push(head);
        line = rest;
      }
      used = widthOf(line);
    }
    result.push(line);
  }
  return result;
}

/** No line of any paper holds so many letters: what is longer need not be measured. */
const mostLetters = 500;

/** Made when a word is too long for its line, which is seldom: the engine opens its tables for it. */
let segmenter: Intl.Segmenter | undefined;

/** The longest beginning of a word that fits, with at least one letter, and what is left. */
function parted(word: string, fits: (line: string) => boolean): [head: string, rest: string] {
  let head = '';
  let behindHyphen = 0;
  segmenter ??= new Intl.Segmenter('en', { granularity: 'grapheme' });
  for (const { segment } of segmenter.segment(word.slice(0, 2 * mostLetters))) {
    if (head !== '' && !fits(`${head}${segment}-`)) break;
    head += segment;
    if (/[-/–]$/.test(head)) behindHyphen = head.length;
  }
  if (behindHyphen > word.length / 4 && behindHyphen < word.length) return [word.slice(0, behindHyphen), word.slice(behindHyphen)];
  const rest = word.slice(head.length);
  return [/\p{L}$/u.test(head) && /^\p{L}/u.test(rest) && fits(`${head}-`) ? `${head}-` : head, rest];
}

/** A wrapped text. */
export function paragraph(measure: Measure, text: string, width: number, style: Style = plainStyle, tag: Element['tag'] = 'P'): Block {
  const step = style.size * leading;
  const marks = lines(measure, text, width, style).map(
    (line, index): Mark => ({ kind: 'text', x: 0, y: index * step, size: style.size, weight: style.weight, text: line }),
  );
  return { height: marks.length * step, pieces: text === '' ? [] : [element(tag, marks, { text: joinUnits(text) })] };
}

/** What somebody wrote over several lines, where there is one. */
export const inOneLine = (text: string): string => (/[\t\r\n]/.test(text) ? text.replace(/\s*[\t\r\n]\s*/g, ' ').trim() : text);

/** One line of text at a place, as a paragraph of its own. */
export function textLine(written: string, x: number, y: number, style: Style): Element {
  const text = inOneLine(written);
  return element('P', [{ kind: 'text', x, y, size: style.size, weight: style.weight, text }], { text });
}

export const space = (height: number): Block => ({ height, pieces: [] });

/** Blocks one below the other, as one block. */
export function stack(blocks: readonly Block[], gap = 0): Block {
  const pieces: Piece[] = [];
  let y = 0;
  blocks.forEach((block, index) => {
    if (index > 0) y += gap;
    pieces.push(...shift(block.pieces, 0, y));
    y += block.height;
  });
  return { height: y, pieces };
}

export const inset = (block: Block, left: number, top = 0, bottom = 0): Block => ({
  ...block,
  height: block.height + top + bottom,
  pieces: shift(block.pieces, left, top),
});

/** Blocks beside each other at given places; as high as the highest. */
export function beside(parts: readonly { readonly x: number; readonly block: Block }[]): Block {
  return {
    height: Math.max(0, ...parts.map(({ block }) => block.height)),
    pieces: [
      element(
        'Div',
        parts.map(({ x, block }) => element('Div', shift(block.pieces, x, 0))),
        { look: 'beside' },
      ),
    ],
  };
}

export function framed(block: Block, width: number, padding = 6, line: number = rule.thin): Block {
  const height = block.height + 2 * padding;
  const frame: Mark = { kind: 'box', x: 0, y: 0, w: width, h: height, width: line };
  return {
    height,
    pieces: [element('Div', [frame, ...shift(block.pieces, padding, padding)], { look: line >= rule.heavy ? 'heavy-frame' : 'frame' })],
  };
}

export function heading(
  measure: Measure,
  text: string,
  width: number,
  options: { readonly newPage?: boolean; readonly running?: boolean } = {},
): Block {
  const words = paragraph(measure, text, width, { size: sizes.heading, weight: 'bold' }, 'H2');
  const height = words.height + 8;
  return {
    height,
    pieces: [...shift(words.pieces, 0, 4), { kind: 'line', x: 0, y: height - 2, toX: width, toY: height - 2, width: 1.2 }],
    keepWithNext: true,
    ...(options.newPage ? { newPage: true } : {}),
    ...(options.running ? { running: text } : {}),
  };
}

/** What stands under a heading, which is said again where that goes on on another page, and a gap after it. */
export const section = (measure: Measure, title: string, width: number, content: readonly Block[], gap: number): Block[] => [
  heading(measure, title, width, { running: true }),
  ...content,
  { ...space(gap), running: null },
];

/** A blank to write in. */
export interface Blank {
  /** Its place in the record. */
  readonly key: string;
  /** What it is for, printed before it. */
  readonly label: string;
  /** Printed after it. */
  readonly unit?: string;
  readonly width?: number;
  /** What it is for, where nothing is printed before it. */
  readonly says?: string;
  /** Told on a screen where what is written lies outside. */
  readonly limit?: Limit;
  /** From which other blanks a screen works it out. */
  readonly workedOut?: WorkedOut;
}

const labelWidth = (measure: Measure, label: string): number => (label ? measure.width(label, sizes.small, 'semibold') + 5 : 0);

export function blank(measure: Measure, { key, width = box.blankWidth, says, limit, workedOut, ...written }: Blank): Block {
  const size = sizes.small;
  const [label, unit] = [inOneLine(written.label), inOneLine(written.unit ?? '')];
  const before = labelWidth(measure, label);
  const middle = (box.blankHeight - size) / 2;
  const marks: Mark[] = [{ kind: 'box', x: before, y: 0, w: width, h: box.blankHeight, width: rule.thin }];
  if (label) marks.push({ kind: 'text', x: 0, y: middle, size, weight: 'semibold', text: label });
  if (unit) marks.push({ kind: 'text', x: before + width + 3, y: middle, size: sizes.text, weight: 'regular', text: unit });
  return {
    height: box.blankHeight,
    pieces: [
      element('P', marks, {
        text: label,
        field: { kind: 'blank', key, label: says ?? (label || key), unit, ...(limit && { limit }), ...(workedOut && { workedOut }) },
      }),
    ],
  };
}

export const blankWidthOf = (measure: Measure, { label, unit = '', width = box.blankWidth }: Blank): number =>
  labelWidth(measure, label) + width + (unit ? measure.width(unit, sizes.text, 'regular') + 6 : 0) + 6;

/** Blanks in lines, as many in a line as fit. */
export const blanks = (measure: Measure, all: readonly Blank[], width: number, gapY = 4): Block =>
  flow(
    all.map((one) => ({ width: blankWidthOf(measure, one), block: blank(measure, one) })),
    width,
    gapY,
  );

/** Blocks of known width set in lines, as many in a line as fit. */
export function flow(items: readonly { readonly width: number; readonly block: Block }[], width: number, gapY = 4): Block {
  const pieces: Piece[] = [];
  let x = 0;
  let y = 0;
  let high = 0;
  for (const item of items) {
    if (x > 0 && x + item.width > width) {
      x = 0;
      y += high + gapY;
      high = 0;
    }
    pieces.push(...shift(item.block.pieces, x, y));
    x += item.width;
    high = Math.max(high, item.block.height);
  }
  return { height: items.length === 0 ? 0 : y + high, pieces: [element('Div', pieces, { look: 'flow' })] };
}

/** A drawing with what it shows in words. */
export const drawing = (alt: string, width: number, height: number, marks: readonly Mark[]): Block => ({
  height,
  pieces: [element('Figure', marks, { alt, area: { x: 0, y: 0, w: width, h: height } })],
});
