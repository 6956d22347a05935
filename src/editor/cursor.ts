/** What stands at a place in a document: the key that it belongs to, and the word under it. */
export interface Cursor {
  /** Nearest key: on the line itself, or above it where the line is an entry of a list. */
  readonly key: string | null;
  /** The name under the place, or what is written of it so far. */
  readonly word: string;
  readonly start: number;
  readonly end: number;
  /** Whether the word is the key itself. */
  readonly onKey: boolean;
}

const wordSign = /[\w$-]/;

/** Reads the surroundings of an offset from the lines alone, so that it works in a document that does not parse yet. */
export function cursorAt(text: string, offset: number): Cursor {
  let start = offset;
  while (start > 0 && wordSign.test(text[start - 1] ?? '')) start--;
  let end = offset;
  while (end < text.length && wordSign.test(text[end] ?? '')) end++;
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const before = text.slice(lineStart, start);
  const onKey = /^\s*:(\s|$)/.test(text.slice(end, end + 3)) && /^[\s-]*$|[{,]\s*$/.test(before);
  return { key: onKey ? null : keyOf(text, lineStart, before), word: text.slice(start, end), start, end, onKey };
}

/** The last `key:` before the place on its line; else the key of the list that its line is an entry of. */
function keyOf(text: string, lineStart: number, before: string): string | null {
  const onLine = [...before.matchAll(/(?<![\w-])([\w-]+):(?=\s|$)/g)].at(-1)?.[1];
  if (onLine) return onLine;
  const indent = /^ */.exec(before)?.[0].length ?? 0;
  let at = lineStart;
  while (at > 0) {
    const previous = text.lastIndexOf('\n', at - 2) + 1;
    const line = text.slice(previous, at - 1);
    const match = /^( *)(?:- )?([\w-]+):\s*(#.*)?$/.exec(line);
    if (match && (match[1]?.length ?? 0) <= indent) return match[2] ?? null;
    at = previous;
  }
  return null;
}
