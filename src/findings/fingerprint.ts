import crypto from 'node:crypto';
import { lineText, placeOf, type SourceFile } from '../source/source.js';
import type { Finding } from './finding.js';

/** Of a longer line so many characters before a place and behind it are enough to know it again. */
const enough = 500;

/** The text of the line of a place. */
function nearby(file: SourceFile, at: number): string {
  const { line, column } = placeOf(file, at);
  const text = lineText(file, line);
  return text.length > 2 * enough ? text.slice(Math.max(0, column - enough), column + enough) : text;
}

/**
 * Gives each finding a name that stays when lines move: rule, file, the text of its line, and which of the same it is, as they
 * are asked for in their order. Sixteen hexadecimal digits.
 */
export function fingerprinter(): (finding: Finding) => string {
  const counts = new Map<string, number>();
  return ({ rule, span: { file, start } }) => {
    const text = nearby(file, start).trim().replace(/\s+/g, ' ');
    const same = crypto.createHash('sha256').update(`${rule}\0${file.path}\0${text}`);
    const known = same.copy().digest('base64');
    const n = counts.get(known) ?? 0;
    counts.set(known, n + 1);
    return same.update(`\0${n}`).digest('hex').slice(0, 16);
  };
}
