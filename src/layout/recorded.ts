import { spelt } from './characters.js';
import type { Element, Mark, Measure, Paper, Piece } from './page.js';

/** What was ticked and written on a screen (schemas/record.schema.json). */
export interface JobRecord {
  readonly ticks: Readonly<Record<string, unknown>>;
  readonly values: Readonly<Record<string, string>>;
}

/** Whether a box is ticked; nothing but `true` is a tick. */
export const isTicked = ({ ticks }: JobRecord, key: string): boolean => Object.hasOwn(ticks, key) && ticks[key] === true;

/**
 * What was written into a blank, in one line and in letters of the font: on a phone people write others too, and those are
 * spelt out (`U+1F44D`).
 */
export const writtenAt = ({ values }: JobRecord, key: string): string | undefined => {
  const text = Object.hasOwn(values, key) ? values[key]?.replace(/\s+/g, ' ').trim() : undefined;
  return text === undefined ? undefined : spelt(text);
};

/** A paper with the boxes ticked and the blanks filled as a record has them: the sheet for the file. */
export const recorded = (paper: Paper, record: JobRecord, measure: Measure): Paper => ({
  ...paper,
  pages: paper.pages.map((page) => ({ ...page, pieces: page.pieces.map((piece) => fill(piece, record, measure)) })),
});

function fill(piece: Piece, record: JobRecord, measure: Measure): Piece {
  if (piece.kind !== 'element') return piece;
  const { field } = piece;
  if (field?.kind === 'tick' && isTicked(record, field.key)) return { ...piece, children: [...piece.children, ...cross(piece)] };
  const value = field?.kind === 'blank' ? writtenAt(record, field.key) : undefined;
  if (value !== undefined) return { ...piece, children: [...piece.children, ...written(piece, value, measure)] };
  return { ...piece, children: piece.children.map((child) => fill(child, record, measure)) };
}

const boxOf = (element: Element): Extract<Mark, { kind: 'box' }> | undefined =>
  element.children.find((mark): mark is Extract<Mark, { kind: 'box' }> => mark.kind === 'box');

/** A cross in the box, heavy enough to be told from the number in it. */
function cross(element: Element): Mark[] {
  const box = boxOf(element);
  if (!box) return [];
  const [left, top, right, bottom] = [box.x + 3, box.y + 3, box.x + box.w - 3, box.y + box.h - 3];
  return [
    { kind: 'line', x: left, y: top, toX: right, toY: bottom, width: 1.8 },
    { kind: 'line', x: left, y: bottom, toX: right, toY: top, width: 1.8 },
  ];
}

/** What was written, as large as fits the blank; what is too long ends with a sign that it goes on in the record. */
function written(element: Element, all: string, measure: Measure): Mark[] {
  const box = boxOf(element);
  if (!box) return [];
  const room = box.w - 6;
  const letters = [...all.slice(0, 2 * mostLetters)].slice(0, mostLetters);
  const first = (count: number): string => {
    const text = letters.slice(0, count).join('');
    return text.length === all.length ? all : `${text}…`;
  };
  const size = [12, 11, 10, 9].find((one) => measure.width(first(letters.length), one, 'semibold') <= room) ?? 9;
  let count = letters.length;
  while (count > 1 && measure.width(first(count), size, 'semibold') > room) count--;
  return [{ kind: 'text', x: box.x + 3, y: box.y + (box.h - size) / 2 - 1, size, weight: 'semibold', text: first(count) }];
}

/** No blank is so wide that it holds more. */
const mostLetters = 200;
