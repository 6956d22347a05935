import type { Finding } from '../findings/finding.js';
import { codeOf } from '../lookalikes.js';
import type { SourceFile, Span } from '../source/source.js';

/** Control characters, marks that turn the direction of writing, soft hyphens, what has no width, and ends of lines that YAML does not know. */
const unseenCharacter =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u00ad\u061c\u200b\u200e\u200f\u2028-\u202e\u2060\u2066-\u2069\ufffe\uffff]|(?!^)\ufeff/;

const unseenCharacters = new RegExp(unseenCharacter.source, 'g');

/** Those that stand for nothing; others may stand for a tab or the end of a line. */
const meaningless = /[\u00ad\u061c\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069]+|(?!^)\ufeff+/g;

/** Characters of a text that nobody sees, each once: in a file they cannot stand, and come only from what YAML spells (`\u200b`). */
export const unseenOf = (text: string): readonly string[] => [...new Set(text.match(unseenCharacters))];

/** The first character of a file that cannot be seen, as a finding; its fix takes out all that stand for nothing. */
export function unseenIn(file: SourceFile): Finding | null {
  const at = file.text.search(unseenCharacter);
  if (at < 0) return null;
  const spanAt = (start: number, length = 1): Span => ({ file, start, end: start + length });
  const edits = Array.from(file.text.matchAll(meaningless), ({ index, 0: run }) => ({ span: spanAt(index, run.length), text: '' }));
  return {
    rule: 'yaml/control-character',
    severity: 'error',
    message: `There is a character (${codeOf(file.text.charAt(at))}) here that no editor shows. Delete it.`,
    span: spanAt(at),
    ...(edits.length > 0 ? { fix: { title: 'Delete all of these', edits } } : {}),
  };
}
