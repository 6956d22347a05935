/** One file's text with its path in the library, and positions in it. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

/** A text without the mark that some editors put before it. */
export const withoutMark = (text: string): string => (text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);

/** A piece of a file, as offsets into its text; `end` is exclusive. */
export interface Span {
  readonly file: SourceFile;
  readonly start: number;
  readonly end: number;
}

/** A place for people: line and column from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

const lineStarts = new WeakMap<SourceFile, number[]>();

function starts(file: SourceFile): number[] {
  let found = lineStarts.get(file);
  if (!found) {
    found = [0];
    for (let i = file.text.indexOf('\n'); i >= 0; i = file.text.indexOf('\n', i + 1)) found.push(i + 1);
    lineStarts.set(file, found);
  }
  return found;
}

/** Line and column (from 1) of an offset; offsets beyond the text count as its end. */
export function placeOf(file: SourceFile, offset: number): Place {
  const all = starts(file);
  const wanted = Math.max(0, Math.min(offset, file.text.length));
  let low = 0;
  let high = all.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((all[middle] ?? 0) <= wanted) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: wanted - (all[low] ?? 0) + 1 };
}

/** The text of a line (from 1) without its line end. */
export function lineText(file: SourceFile, line: number): string {
  const all = starts(file);
  const from = all[line - 1];
  if (from === undefined) return '';
  return file.text.slice(from, all[line] ?? file.text.length).replace(/\r?\n$/, '');
}

/** Offset of a line and column (from 1); what lies beyond a line counts as its end. */
export function offsetAt(file: SourceFile, place: Place): number {
  const all = starts(file);
  const from = all[Math.max(0, Math.min(place.line, all.length) - 1)] ?? 0;
  const end = all[place.line] === undefined ? file.text.length : (all[place.line] ?? 1) - 1;
  return Math.max(from, Math.min(from + place.column - 1, end));
}

/** What is said of a file whose text cannot be had. */
export const cannotBeRead = (why: string): string => `This file cannot be read: ${why}.`;
