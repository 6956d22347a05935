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
 * A name for each finding that stays when lines move: rule, file, the text of its line, and which of the same it is.
 * Sixteen hexadecimal digits.
 */
export function fingerprints(findings: readonly Finding[]): ReadonlyMap<Finding, string> {
  const counts = new Map<string, number>();
  return new Map(
    findings.map((finding) => {
      const { file, start } = finding.span;
      const text = nearby(file, start).trim().replace(/\s+/g, ' ');
      const same = `${finding.rule}\0${file.path}\0${text}`;
      const n = counts.get(same) ?? 0;
      counts.set(same, n + 1);
      return [finding, crypto.createHash('sha256').update(`${same}\0${n}`).digest('hex').slice(0, 16)];
    }),
  );
}
