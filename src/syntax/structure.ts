import type { Finding, Fix } from '../findings/finding.js';
import { asItLooks, codeOf, colons, dashes, quotes, spaces } from '../lookalikes.js';
import type { SourceFile, Span } from '../source/source.js';
import { limits } from './limits.js';

// What was meant as a sign of YAML and is none: a no-break space before a line, a long dash before an entry, a wide colon
// behind a key, printer's quotes around a text.

/** A line: its indentation, the dashes of entries, a key with its colon and the space behind, and the rest. */
const line = new RegExp(
  [
    `^([ ${spaces}]*)((?:[-${dashes}][ ${spaces}]+)*)`,
    `(?:([^\\s:${colons}#]+)(:(?=[ ${spaces}]|$)|[${colons}])([ ${spaces}]*))?`,
    '(.*)$',
  ].join(''),
  'gm',
);

/** A text in printer's quotes, up to the end of its line. */
const inQuotes = new RegExp(`^([${quotes}])([^${quotes}"\\\\]*)([${quotes}])(?=\\s*(?:#.*)?$)`);

const quote = new RegExp(`^[${quotes}]`);

/** Whether a text begins with one of the printer's quotes. */
export const beginsInQuotes = (text: string): boolean => text.charCodeAt(0) > 127 && quote.test(text);

interface Meant {
  readonly at: number;
  readonly sign: string;
  readonly plain: string;
}

/** Where a text has such characters: a list for each line that has some. */
function meantIn(text: string): Meant[][] {
  const lines: Meant[][] = [];
  for (const { index, 1: indent = '', 2: entries = '', 3: key = '', 4: colon = '', 5: gap = '', 6: value = '' } of text.matchAll(line)) {
    const [, opening = '', inner = '', closing = ''] = inQuotes.exec(value) ?? [];
    const signs = indent + entries + ' '.repeat(key.length) + colon + gap + opening + ' '.repeat(inner.length) + closing;
    const found = signs.split('').flatMap((sign, n): Meant[] => {
      const plain = asItLooks(sign);
      // A wide colon has its space in it.
      return plain === sign ? [] : [{ at: index + n, sign, plain: plain === ':' && gap === '' ? ': ' : plain }];
    });
    if (found.length > 0) lines.push(found);
  }
  return lines;
}

export interface AsMeant {
  /** The text with the signs that were meant. */
  readonly text: string;
  /** A finding for each line that has others. */
  readonly findings: readonly Finding[];
}

/** The text of a file as it seems to be meant; null where it has no such characters, or is too long to be read a second time. */
export function asMeant(file: SourceFile): AsMeant | null {
  if (file.text.length > limits.explained) return null;
  const lines = meantIn(file.text);
  if (lines.length === 0) return null;
  const letters = file.text.split('');
  for (const { at, plain } of lines.flat()) letters[at] = plain;
  return { text: letters.join(''), findings: lines.map((found) => told(file, found)) };
}

function told(file: SourceFile, found: readonly Meant[]): Finding {
  const [{ at, sign, plain } = { at: 0, sign: ' ', plain: ' ' }] = found;
  const what = plain === ' ' ? 'a space' : plain === '-' ? 'the dash of an entry' : plain === '"' ? 'a quote' : 'the colon of a key';
  return {
    rule: 'yaml/lookalike',
    severity: 'error',
    message: `What looks like ${what} here is another character (${codeOf(sign)}), as web pages and text processors have it; YAML does not know it. Write a plain one.`,
    span: { file, start: at, end: at + 1 },
    fix: plainly(file, found),
  };
}

const plainly = (file: SourceFile, found: readonly Meant[]): Fix => ({
  title: 'Write it plainly',
  edits: found.map(({ at, plain }) => ({ span: { file, start: at, end: at + 1 }, text: plain })),
});

/** Told of a text that stands in printer's quotes as a whole: they are part of it, and are printed. */
export function inPrintersQuotes(span: Span): Finding | null {
  const { file, start, end } = span;
  const [all = '', opening = '', inner = '', closing = ''] = inQuotes.exec(file.text.slice(start, end)) ?? [];
  if (all === '' || inner.includes('\n')) return null;
  const found = [
    { at: start, sign: opening, plain: '"' },
    { at: start + all.length - 1, sign: closing, plain: '"' },
  ];
  return {
    rule: 'yaml/lookalike',
    severity: 'warning',
    message: `The quotes around this text are not those of YAML (${codeOf(opening)}): they belong to the text and are printed with it. Write plain ones.`,
    span,
    fix: plainly(file, found),
  };
}
