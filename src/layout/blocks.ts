import type { Mark, Measure, Tag, Weight } from './page.js';
import { shift } from './page.js';
import { box, leading, rule, sizes } from './style.js';

/** A piece of content of known height, its marks relative to its own top left corner. Never split by a page break. */
export interface Block {
  readonly height: number;
  readonly marks: readonly Mark[];
  /** What it is to a reader who does not see the page; a paragraph if unsaid. */
  readonly tag?: Tag;
  /** Stays on the page of the block that follows: a heading, a caution. */
  readonly keepWithNext?: boolean;
  /** Set again above it where it begins a page: the head of its table. */
  readonly head?: Block;
  /** Begins a new page. */
  readonly newPage?: boolean;
  /** Repeated at the top of each page until another takes its place; null ends it. */
  readonly running?: string | null;
  /** The step that ends here, for the foot of the page. */
  readonly step?: number;
}

export interface Style {
  readonly size: number;
  readonly weight: Weight;
}

export const plainStyle: Style = { size: sizes.text, weight: 'regular' };
export const smallStyle: Style = { size: sizes.small, weight: 'regular' };
export const strongStyle: Style = { size: sizes.text, weight: 'semibold' };

/** Never parts a number from its unit. */
const joinUnits = (text: string): string =>
  text.replace(/(\d) (N·m|lbf·ft|lbf·in|mm|L|mL|°C|%|bar|min|h|km|kg|s|d|deg|AF)\b/g, '$1\u00a0$2');

/** Lines of a text that fit a width; a word longer than the width is cut between letters. */
export function lines(measure: Measure, text: string, width: number, style: Style): string[] {
  const result: string[] = [];
  for (const paragraph of joinUnits(text).split('\n')) {
    let line = '';
    for (const word of paragraph.split(/ +/)) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (measure.width(longer, style.size, style.weight) <= width) {
        line = longer;
        continue;
      }
      if (line !== '') result.push(line);
      line = word;
      while (measure.width(line, style.size, style.weight) > width) {
        let fits = '';
        for (const { segment } of segmenter.segment(line)) {
          if (fits !== '' && measure.width(fits + segment, style.size, style.weight) > width) break;
          fits += segment;
        }
        result.push(fits);
        line = line.slice(fits.length);
      }
    }
    result.push(line);
  }
  return result;
}

const segmenter = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** A wrapped text. */
export function paragraph(measure: Measure, text: string, width: number, style: Style = plainStyle): Block {
  const step = style.size * leading;
  const marks = lines(measure, text, width, style).map(
    (line, index): Mark => ({ kind: 'text', x: 0, y: index * step, size: style.size, weight: style.weight, text: line }),
  );
  return { height: marks.length * step, marks };
}

export const space = (height: number): Block => ({ height, marks: [] });

/** Blocks one below the other, as one block. */
export function stack(blocks: readonly Block[], gap = 0): Block {
  const marks: Mark[] = [];
  let y = 0;
  blocks.forEach((block, index) => {
    if (index > 0) y += gap;
    marks.push(...shift(block.marks, 0, y));
    y += block.height;
  });
  return { height: y, marks };
}

export const inset = (block: Block, left: number, top = 0, bottom = 0): Block => ({
  ...block,
  height: block.height + top + bottom,
  marks: shift(block.marks, left, top),
});

/** Blocks beside each other at given places; as high as the highest. */
export function beside(parts: readonly { readonly x: number; readonly block: Block }[]): Block {
  return {
    height: Math.max(0, ...parts.map(({ block }) => block.height)),
    marks: parts.flatMap(({ x, block }) => shift(block.marks, x, 0)),
  };
}

export const tick = (x: number, y: number): Mark => ({ kind: 'box', x, y, w: box.side, h: box.side, width: 1.1 });

export function framed(block: Block, width: number, padding = 6, line: number = rule.thin): Block {
  const height = block.height + 2 * padding;
  return { height, marks: [{ kind: 'box', x: 0, y: 0, w: width, h: height, width: line }, ...shift(block.marks, padding, padding)] };
}

export function heading(
  measure: Measure,
  text: string,
  width: number,
  options: { readonly newPage?: boolean; readonly running?: boolean } = {},
): Block {
  const words = paragraph(measure, text, width, { size: sizes.heading, weight: 'bold' });
  const height = words.height + 8;
  return {
    height,
    marks: [...shift(words.marks, 0, 4), { kind: 'line', x: 0, y: height - 2, toX: width, toY: height - 2, width: 1.2 }],
    keepWithNext: true,
    tag: 'H2',
    ...(options.newPage ? { newPage: true } : {}),
    ...(options.running ? { running: text } : {}),
  };
}

export interface Column {
  readonly title: string;
  /** Share of the width. */
  readonly share: number;
  readonly right?: boolean;
}

/** A table as blocks: its head, then a block a row. Rows are never split. */
export function table(
  measure: Measure,
  columns: readonly Column[],
  rows: readonly (readonly (string | Block)[])[],
  width: number,
  style: Style = plainStyle,
): Block[] {
  const total = columns.reduce((sum, column) => sum + column.share, 0);
  const widths = columns.map((column) => (column.share / total) * width);
  const starts = widths.map((_, index) => widths.slice(0, index).reduce((sum, one) => sum + one, 0));
  const cell = (content: string | Block, index: number, how: Style): Block => {
    const wide = (widths[index] ?? 0) - 8;
    const block = typeof content === 'string' ? paragraph(measure, content, wide, how) : content;
    if (!columns[index]?.right) return inset(block, 4);
    return {
      ...block,
      marks: block.marks.map((mark) =>
        mark.kind === 'text' ? { ...mark, x: mark.x + 4 + wide - measure.width(mark.text, mark.size, mark.weight) } : mark,
      ),
    };
  };
  const row = (cells: readonly (string | Block)[], how: Style, line: number): Block => {
    const body = beside(cells.map((content, index) => ({ x: starts[index] ?? 0, block: cell(content, index, how) })));
    const height = body.height + 6;
    return {
      height,
      tag: 'TR',
      marks: [...shift(body.marks, 0, 3), { kind: 'line', x: 0, y: height, toX: width, toY: height, width: line }],
    };
  };
  const head: Block = {
    ...row(
      columns.map((column) => column.title),
      { size: sizes.small, weight: 'semibold' },
      rule.thin,
    ),
    keepWithNext: true,
  };
  return [head, ...rows.map((cells): Block => ({ ...row(cells, style, rule.hair), head }))];
}

/** A blank to write in, with what it is for before it and its unit printed after it. */
export function blank(measure: Measure, label: string, unit: string, width: number = box.blankWidth): Block {
  const size = sizes.small;
  const labelWidth = label ? measure.width(label, size, 'semibold') + 5 : 0;
  const middle = (box.blankHeight - size) / 2;
  const marks: Mark[] = [{ kind: 'box', x: labelWidth, y: 0, w: width, h: box.blankHeight, width: rule.thin }];
  if (label) marks.push({ kind: 'text', x: 0, y: middle, size, weight: 'semibold', text: label });
  if (unit) marks.push({ kind: 'text', x: labelWidth + width + 3, y: middle, size: sizes.text, weight: 'regular', text: unit });
  return { height: box.blankHeight, marks };
}

export const blankWidthOf = (measure: Measure, label: string, unit: string, width: number = box.blankWidth): number =>
  (label ? measure.width(label, sizes.small, 'semibold') + 5 : 0) + width + (unit ? measure.width(unit, sizes.text, 'regular') + 6 : 0) + 6;

/** Blocks of known width set in lines, as many in a line as fit. */
export function flow(items: readonly { readonly width: number; readonly block: Block }[], width: number, gapY = 4): Block {
  const marks: Mark[] = [];
  let x = 0;
  let y = 0;
  let high = 0;
  for (const item of items) {
    if (x > 0 && x + item.width > width) {
      x = 0;
      y += high + gapY;
      high = 0;
    }
    marks.push(...shift(item.block.marks, x, y));
    x += item.width;
    high = Math.max(high, item.block.height);
  }
  return { height: items.length === 0 ? 0 : y + high, marks };
}
