import modules from 'node:module';
import type { Finding } from '../findings/finding.js';
import type { SourceFile } from '../source/source.js';

/** Loaded when a file cannot be read, and not before: most runs never need it. */
const load = modules.createRequire(import.meta.filename);

/**
 * Why a file cannot be read, in words that say what to do. It is asked only about files that the reader refused; it
 * gives no values. Null where it finds nothing wrong itself.
 */
export function explain(file: SourceFile): Finding[] | null {
  const { parseDocument } = load('yaml') as typeof import('yaml');
  let document: ReturnType<typeof parseDocument>;
  try {
    document = parseDocument(file.text, {
      version: '1.2',
      prettyErrors: false,
      strict: true,
      logLevel: 'silent',
      customTags: [],
      merge: false,
    });
  } catch {
    return null;
  }
  const findings: Finding[] = [];
  for (const error of document.errors) {
    // After the first fault the rest of a file is guesswork; a key that stands twice is told all the same.
    if (error.code !== 'DUPLICATE_KEY' && findings.some((finding) => finding.rule !== 'yaml/duplicate-key')) continue;
    findings.push(inWords(file, error.code, error.message, error.pos));
  }
  return findings.length > 0 ? findings : null;
}

/** The parser's codes in words that say what to do. */
const words: Readonly<Record<string, [rule: string, message: string]>> = {
  DUPLICATE_KEY: ['yaml/duplicate-key', 'This key stands here a second time, and only one of the two can be meant. Delete one.'],
  TAB_AS_INDENT: ['yaml/tab', 'There is a tab in the indentation. Use spaces.'],
  MULTIPLE_DOCS: ['yaml/syntax', 'There is a second document (`---`) in this file. Put each document into a file of its own.'],
  BAD_INDENT: ['yaml/syntax', 'The indentation does not fit what stands above. Lines that belong together start in the same column.'],
  MISSING_CHAR: ['yaml/syntax', 'A sign is missing here: a closing quote or bracket, or the colon after a key.'],
  BLOCK_AS_IMPLICIT_KEY: [
    'yaml/syntax',
    'Two keys stand on one line. Put the second on a line of its own, or quote the text if it contains a colon.',
  ],
  LIST_AMONG_KEYS: [
    'yaml/syntax',
    'A list entry (`- `) begins here, and above it stand keys and no list. Is the first line of the entry above missing, or does one of the two stand in the wrong column?',
  ],
  MULTILINE_IMPLICIT_KEY: ['yaml/syntax', 'A key runs over more than one line. Is a colon missing at the end of the line?'],
  NO_TEXT_AS_KEY: ['yaml/syntax', 'A key is missing here, or is no text. Write a name before the colon.'],
  BAD_ALIAS: ['yaml/syntax', 'This alias (`*name`) has no anchor (`&name`) above it.'],
  TAG_RESOLVE_FAILED: ['yaml/tag', 'This tag (`!name`) means nothing here. Delete it and write the plain value.'],
  BAD_SCALAR_START: ['yaml/syntax', 'A text cannot start with this sign. Put the text in quotes.'],
};

/** @param pos offsets from and to which the fault reaches */
export function inWords(file: SourceFile, code: string, message: string, pos: readonly [number, number]): Finding {
  const from = Math.min(pos[0], Math.max(0, file.text.length - 1));
  const written = from + (/^ */.exec(file.text.slice(from))?.[0].length ?? 0);
  // The parser sees a key in what is the entry of a list.
  const isEntry = (code === 'BLOCK_AS_IMPLICIT_KEY' || code === 'MULTILINE_IMPLICIT_KEY') && file.text.startsWith('- ', written);
  const what = isEntry ? 'LIST_AMONG_KEYS' : code;
  const unclosed = code === 'BAD_INDENT' ? /must be .* end with a ([\]}])/.exec(message)?.[1] : undefined;
  const [rule, text] = unclosed
    ? ['yaml/syntax', `A bracket that is opened above is not closed before this. Close it with \`${unclosed}\`.`]
    : (words[what] ?? ['yaml/syntax', `This cannot be read as YAML: ${message.replace(/\s+/g, ' ')}`]);
  const start = isEntry ? written : from;
  const lineEnd = file.text.indexOf('\n', start);
  const end = Math.min(Math.max(pos[1], start + 1), lineEnd > start ? lineEnd : file.text.length);
  return { rule, severity: 'error', message: text, span: { file, start, end: Math.max(end, start) } };
}
