import { beside, type Block, inset, paragraph, plainStyle, type Style } from './blocks.js';
import { type Element, element, type Mark, type Measure, type Piece, shift } from './page.js';
import { box, rule, sizes } from './style.js';

/** A box to tick. @param key its place in the record @param label what is ticked, for those who do not see the page */
export const tick = (key: string, label: string, x = 0, y = 0): Element =>
  element('P', [{ kind: 'box', x, y, w: box.side, h: box.side, width: 1.1 }], { field: { kind: 'tick', key, label } });

export const tickBlock = (key: string, label: string, x = 0): Block => ({ height: box.side, pieces: [tick(key, label, x)] });

/** A box to tick with its words behind it. */
export function tickLine(measure: Measure, key: string, text: string, width: number, style: Style = plainStyle): Block {
  const words = paragraph(measure, text, width - box.side - 6, style);
  const marks = shift(words.pieces, box.side + 5, 2);
  return {
    height: Math.max(words.height + 2, box.side),
    pieces: [element('P', [...tick(key, text).children, ...marks], { text, field: { kind: 'tick', key, label: text } })],
  };
}

/** A list with a tick box before each line, in rows of some columns: a block a row, so that a page may break between. */
export function tickRows(
  measure: Measure,
  items: readonly { readonly key: string; readonly text: string }[],
  width: number,
  columns: number,
): Block[] {
  const wide = (width - (columns - 1) * 10) / columns;
  const style: Style = columns > 1 ? { size: 10, weight: 'regular' } : plainStyle;
  const rows = Array.from({ length: Math.ceil(items.length / columns) }, (_, row) => {
    const parts = items.slice(row * columns, (row + 1) * columns).map((item, index) => ({
      x: index * (wide + 10),
      block: tickLine(measure, item.key, item.text, wide, style),
    }));
    return inset(beside(parts), 0, 0, 3);
  });
  return noneAlone(rows);
}

/** Rows of which the last does not stand alone on a page. */
const noneAlone = (rows: readonly Block[]): Block[] => rows.map((row, n) => (n === rows.length - 2 ? { ...row, keepWithNext: true } : row));

export interface Column {
  readonly title: string;
  /** Share of the width. */
  readonly share: number;
  readonly right?: boolean;
}

const headStyle: Style = { size: sizes.small, weight: 'semibold' };

/** By the shares; a column whose title has a longer word takes as much from the others as that needs, so that it is not broken. */
function columnWidths(measure: Measure, columns: readonly Column[], width: number): number[] {
  const total = columns.reduce((sum, column) => sum + column.share, 0);
  const all = columns.map(({ title, share }) => {
    const words = title.split(' ').map((word) => measure.width(word, headStyle.size, headStyle.weight));
    const least = Math.max(...words) + 2 * cellPadding;
    const wide = (share / total) * width;
    return { wide: Math.max(wide, least), lacks: Math.max(0, least - wide), spare: Math.max(0, wide - least) };
  });
  const lacks = all.reduce((sum, one) => sum + one.lacks, 0);
  const spare = all.reduce((sum, one) => sum + one.spare, 0);
  return all.map((one) => one.wide - (spare > 0 ? (one.spare * lacks) / spare : 0));
}

/** Between the edge of a cell and its text. */
const cellPadding = 4;

/** A table as blocks: its head, then a block a row. Rows are never split. */
export function table(
  measure: Measure,
  columns: readonly Column[],
  rows: readonly (readonly (string | Block)[])[],
  width: number,
  style: Style = plainStyle,
): Block[] {
  const ours = {};
  const widths = columnWidths(measure, columns, width);
  const starts = widths.map((_, index) => widths.slice(0, index).reduce((sum, one) => sum + one, 0));
  const cell = (content: string | Block, index: number, how: Style, tag: 'TH' | 'TD'): Block => {
    const wide = (widths[index] ?? 0) - 2 * cellPadding;
    const block = typeof content === 'string' ? paragraph(measure, content, wide, how) : content;
    const to = (starts[index] ?? 0) + cellPadding;
    const pieces = columns[index]?.right ? flushRight(measure, block.pieces, wide) : block.pieces;
    return { height: block.height, pieces: [element(tag, shift(pieces, to, 3), columns[index]?.right ? { look: 'right' } : {})] };
  };
  const row = (cells: readonly (string | Block)[], how: Style, line: number, tag: 'TH' | 'TD'): Block => {
    const set = cells.map((content, index) => cell(content, index, how, tag));
    const height = Math.max(0, ...set.map((one) => one.height)) + 6;
    const below: Mark = { kind: 'line', x: 0, y: height, toX: width, toY: height, width: line };
    return { height, pieces: [element('TR', [...set.flatMap((one) => one.pieces), below], { table: ours })] };
  };
  const head: Block = {
    ...row(
      columns.map((column) => column.title),
      headStyle,
      rule.thin,
      'TH',
    ),
    keepWithNext: true,
  };
  return [head, ...noneAlone(rows.map((cells): Block => ({ ...row(cells, style, rule.hair, 'TD'), head })))];
}

const flushRight = (measure: Measure, pieces: readonly Piece[], width: number): Piece[] =>
  pieces.map((piece): Piece => {
    if (piece.kind === 'element') return { ...piece, children: flushRight(measure, piece.children, width) };
    return piece.kind === 'text' ? { ...piece, x: piece.x + width - measure.width(piece.text, piece.size, piece.weight) } : piece;
  });
