import type { Finding } from '../findings/finding.js';
import type { SourceFile } from '../source/source.js';
import { limits } from './limits.js';
import { parseDocument, visit } from './yaml-package.js';

/**
 * Why a file cannot be read, in words that say what to do. It is asked only about files that the reader refused; it
 * gives no values. Null where it finds nothing wrong itself, or the fault lies too far down to read all above it again.
 * @param at offset at which the reader gave up: little behind it is looked at
 */
export function explain(file: SourceFile, at: number): Finding[] | null {
  const conflict = conflictMark.exec(file.text);
  if (conflict) return [inWords(file, 'CONFLICT', '', [conflict.index, conflict.index + conflict[0].length])];
  const lineEnd = file.text.indexOf('\n', at + farBehind);
  const text = file.text.slice(0, Math.min(lineEnd < 0 ? file.text.length : lineEnd, at + 2 * farBehind));
  if (text.length > limits.explained) return null;
  // Loaded here: that the package is missing is no fault of the file.
  const read = parseDocument;
  let document: ReturnType<typeof read>;
  try {
    document = read(text, {
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
  const needless = bracketAboveList(document.errors, text);
  if (needless >= 0) return [inWords(file, 'BRACKET_ABOVE_LIST', '', [needless, needless + 1])];
  const findings: Finding[] = [];
  for (const { code, message, pos } of document.errors) {
    // After the first fault the rest of a file is guesswork; a key that stands twice is told all the same.
    if (code !== 'DUPLICATE_KEY' && findings.some((finding) => finding.rule !== 'yaml/duplicate-key')) continue;
    if (findings.length >= limits.mistakes) break;
    const sign = notClosed(message);
    const opened = sign === undefined ? -1 : openedAt(document, file.text, sign);
    const finding = inWords(file, code, message, opened < 0 ? pos : [opened, opened + 1]);
    const habit = code === 'DUPLICATE_KEY' ? undefined : habitAt(file.text, finding.span.start);
    findings.push(habit ? { ...finding, message: habit.words, span: { file, start: habit.start, end: habit.end } } : finding);
  }
  return findings.length > 0 ? findings : null;
}

/** So much behind the fault may say what it is. */
const farBehind = 2000;

/** What version control writes at the start of a line, where two people changed the same lines. */
const conflictMark = /^(?:<{7}|\|{7}|={7}|>{7})(?: .*)?$/m;

/** The sign that is missing at the end of a text or a group, where that is what is wrong. */
const notClosed = (message: string): string | undefined =>
  /closing (["'])quote/.exec(message)?.[1] ?? /must be .* end with a ([\]}])/.exec(message)?.[1];

/** Where a line ends with an opening bracket, and entries with dashes follow: all that is said of those is wrong then. -1 where none does. */
function bracketAboveList(errors: readonly { readonly code: string; readonly pos: readonly [number, number] }[], text: string): number {
  const entry = errors.find(({ code }) => code === 'BLOCK_IN_FLOW')?.pos[0] ?? 0;
  if (!text.startsWith('- ', entry)) return -1;
  const above = text.slice(0, entry).trimEnd();
  const line = above.lastIndexOf('\n') + 1;
  const end = line + above.slice(line).replace(/\s#.*/, '').trimEnd().length;
  return beginsLine(text, entry) && /[[{]/.test(text[end - 1] ?? '') ? end - 1 : -1;
}

const openings: Readonly<Record<string, string>> = { '"': '"', "'": "'", ']': '[', '}': '{' };

/** Where the text or the group begins that is not closed: the last of those that lack the sign. */
function openedAt(document: ReturnType<typeof parseDocument>, text: string, sign: string): number {
  let found = -1;
  visit(document, {
    Node(_, { range }) {
      if (!range || text[range[0]] !== openings[sign]) return;
      const isClosed = range[1] > range[0] + 1 && text[range[1] - 1] === sign;
      if (!isClosed) found = Math.max(found, range[0]);
    },
  });
  return found;
}

interface Fault {
  readonly code: string;
  /** Of several faults under one code, what the parser says of this one. */
  readonly says?: RegExp;
  readonly rule?: string;
  readonly words: string;
}

const misplaced =
  'What begins here cannot stand at this place. Is a dash, a key or a comma missing before it, or does it stand in the wrong column?';
const afterBlockSign =
  'Behind `|` and `>` the line ends, and the text begins in the next, further in. Put a text that begins with such a sign in quotes.';
const noSpace = 'A space is missing behind the colon.';
const tags = 'This tag (`!name`) means nothing here. Delete it and write the plain value.';
const anchors = 'A text cannot start with `&`, `*` or `!`, which YAML takes for anchors, aliases and tags. Put the text in quotes.';

/** What the parsers find, in words that say what to do. */
const faults: readonly Fault[] = [
  {
    code: 'DUPLICATE_KEY',
    rule: 'yaml/duplicate-key',
    words: 'This key stands here a second time, and only one of the two can be meant. Delete one.',
  },
  {
    code: 'CONFLICT',
    words:
      'Version control has left two versions of the same lines here, with marks around them (`<<<<<<<`, `=======`, `>>>>>>>`). Keep the lines that are right, and delete the others and the marks.',
  },
  { code: 'TAB_AS_INDENT', rule: 'yaml/tab', words: 'There is a tab in the indentation. Use spaces.' },
  { code: 'MULTIPLE_DOCS', words: 'There is a second document (`---`) in this file. Put each document into a file of its own.' },
  { code: 'BAD_INDENT', says: /end with a \]/, words: 'The bracket that opens here is not closed. Close it with `]`.' },
  { code: 'BAD_INDENT', says: /end with a \}/, words: 'The bracket that opens here is not closed. Close it with `}`.' },
  { code: 'BAD_INDENT', words: 'The indentation does not fit what stands above. Lines that belong together start in the same column.' },
  { code: 'MISSING_CHAR', says: /closing/, words: 'The quote that opens here is not closed. Close it where the text ends.' },
  { code: 'MISSING_CHAR', says: /end with a/, words: 'The bracket that opens here is not closed. Close it.' },
  {
    code: 'MISSING_CHAR',
    says: /between/,
    words: 'A comma is missing before this, or quotes around a text with a comma or a bracket in it.',
  },
  { code: 'MISSING_CHAR', says: /followed by map values/, words: 'The colon behind this is missing: `key: value`.' },
  { code: 'MISSING_CHAR', says: /space after :/, words: noSpace },
  { code: 'MISSING_CHAR', says: /Comments/, words: 'A remark (`#`) needs a space before it. Put a text with this sign in quotes.' },
  { code: 'MISSING_CHAR', says: /Tags and anchors/, words: anchors },
  { code: 'MISSING_CHAR', says: /without -/, words: 'The dash before this entry is missing, or it stands in the wrong column.' },
  { code: 'MISSING_CHAR', words: 'A sign is missing here: a closing quote or bracket, or the colon after a key.' },
  {
    code: 'BLOCK_AS_IMPLICIT_KEY',
    words: 'Two keys stand on one line. Put the second on a line of its own, or quote the text if it contains a colon.',
  },
  {
    code: 'BLOCK_IN_FLOW',
    words:
      'Inside brackets entries stand with commas between them, without dashes. Write a comma before this, or quote the text if it contains a colon.',
  },
  { code: 'BRACKET_ABOVE_LIST', words: 'A list of entries with dashes takes no bracket. Delete this one.' },
  {
    code: 'LIST_AMONG_KEYS',
    words:
      'A list entry (`- `) begins here, and above it stand keys and no list. Is the first line of the entry above missing, or does one of the two stand in the wrong column?',
  },
  {
    code: 'FURTHER_IN',
    words:
      'This line stands further in than the one above, as if it went on with its text. Start it in the same column, or end the line above with a colon if this belongs below it.',
  },
  { code: 'MULTILINE_IMPLICIT_KEY', words: 'A key runs over more than one line. Is a colon missing at the end of the line?' },
  { code: 'KEY_OVER_1024_CHARS', words: 'This key has more than 1024 characters. Is a colon missing before it?' },
  { code: 'NO_TEXT_AS_KEY', words: 'A key is missing here, or is no text. Write a name before the colon.' },
  { code: 'BAD_ALIAS', says: /^$/, words: 'This alias (`*name`) has no anchor (`&name`) above it.' },
  { code: 'BAD_ALIAS', words: anchors },
  { code: 'TEXT_AS_TAG', rule: 'yaml/tag', words: anchors },
  { code: 'ALIAS_PROPS', words: anchors },
  { code: 'MULTIPLE_ANCHORS', words: anchors },
  { code: 'MULTIPLE_TAGS', words: anchors },
  { code: 'BAD_PROP_ORDER', words: anchors },
  { code: 'TAG_RESOLVE_FAILED', rule: 'yaml/tag', words: tags },
  { code: 'BAD_COLLECTION_TYPE', rule: 'yaml/tag', words: tags },
  { code: 'BAD_SCALAR_START', words: 'A text cannot start with this sign. Put the text in quotes.' },
  {
    code: 'BAD_DQ_ESCAPE',
    words: 'In double quotes a backslash begins a sign of its own, and this is none. Write two (`\\\\`), or use single quotes.',
  },
  { code: 'BAD_DIRECTIVE', words: 'A line cannot start with `%`. Put the text in quotes.' },
  { code: 'UNEXPECTED_TOKEN', says: /flow-(map|seq)-end/, words: 'This bracket closes what is not open. Delete it, or open it before.' },
  { code: 'UNEXPECTED_TOKEN', says: /Unexpected ,|empty item/, words: 'Nothing stands before this comma. Delete it.' },
  { code: 'UNEXPECTED_TOKEN', says: /Block scalar header|Not a YAML token/, words: afterBlockSign },
  { code: 'UNEXPECTED_TOKEN', words: misplaced },
];

/** Habits of other ways of writing: what is wrong is told where it stands, in the line of the fault or in the one above. */
const habits: readonly { readonly sign: RegExp; readonly words: string }[] = [
  {
    sign: /^ *(-(?=[a-z{[])|(?:--+|[*+•]|\d+[.)]) +(?=[\w-]+:(?: |$)|[{[]))/,
    words: 'An entry of a list begins with one dash and a space: `- `.',
  },
  { sign: /(?<= )(\/\/)(?= |$)/, words: 'A remark begins with `#`, and not with `//`.' },
  { sign: /^ *(?:- +)*([a-z][\w-]*:)(?=[^\s:/])/, words: noSpace },
];

function habitAt(text: string, at: number): { readonly start: number; readonly end: number; readonly words: string } | undefined {
  const lineOf = (offset: number) => text.lastIndexOf('\n', offset - 1) + 1;
  const own = lineOf(at);
  for (const start of own > 0 ? [own, lineOf(own - 1)] : [own]) {
    const line = /.*/y;
    line.lastIndex = start;
    const [written = ''] = line.exec(text) ?? [];
    for (const { sign, words } of habits) {
      const found = sign.exec(written);
      if (!found) continue;
      const from = start + written.indexOf(found[1] ?? '', found.index);
      return { start: from, end: from + (found[1] ?? '').trimEnd().length, words };
    }
  }
  return undefined;
}

const unclear =
  'From here on this cannot be read as YAML. Look at the quotes, brackets, colons and dashes of this line and of the one above.';

/** @param pos offsets from and to which the fault reaches */
export function inWords(file: SourceFile, code: string, message: string, pos: readonly [number, number]): Finding {
  const { text } = file;
  const from = Math.min(pos[0], Math.max(0, text.length - 1));
  const written = from + (/^ */.exec(text.slice(from))?.[0].length ?? 0);
  // The parser sees a key in what is the entry of a list.
  const isEntry = (code === 'BLOCK_AS_IMPLICIT_KEY' || code === 'MULTILINE_IMPLICIT_KEY') && text.startsWith('- ', written);
  const further = code === 'BLOCK_AS_IMPLICIT_KEY' && !isEntry ? lineWithKey(text, from) : -1;
  const isFirst = beginsLine(text, from);
  const isIndented = isFirst && /at node end|^bad indentation/.test(message);
  const what = isEntry ? 'LIST_AMONG_KEYS' : further >= 0 ? 'FURTHER_IN' : isIndented ? 'BAD_INDENT' : code;
  const fault = faults.find((one) => one.code === what && (one.says?.test(message) ?? true));
  const behind = !isIndented && /at node end/.test(message) ? behindWhat(text, from) : undefined;
  const start = Math.max(isFirst || isEntry ? behindRemarks(text, written) : from, further);
  const lineEnd = text.indexOf('\n', start);
  const end = Math.min(Math.max(pos[1], start + 1), lineEnd > start ? lineEnd : text.length);
  return {
    rule: fault?.rule ?? 'yaml/syntax',
    severity: 'error',
    message: behind ?? fault?.words ?? unclear,
    span: { file, start, end: Math.max(end, start) },
  };
}

/** Whether only spaces stand before a place in its line. */
function beginsLine(text: string, at: number): boolean {
  let before = at;
  while (text[before - 1] === ' ') before--;
  return before === 0 || text[before - 1] === '\n';
}

/** Where the second of two keys begins, if it stands in another line than the first, which begins before `at`; else -1. */
function lineWithKey(text: string, at: number): number {
  const [first = '', ...others] = text.slice(at).split('\n');
  if (/:(\s|$)/.test(first)) return -1;
  let start = at + first.length + 1;
  for (const line of others) {
    const indent = /^ */.exec(line)?.[0].length ?? 0;
    if (!line.startsWith('#', indent) && /:(\s|$)/.test(line)) return start + indent;
    start += line.length + 1;
  }
  return -1;
}

/** Nothing is wrong with a remark: what is begins behind it. */
function behindRemarks(text: string, at: number): number {
  const remarks = /(?:#.*\n[ \n]*)*/y;
  remarks.lastIndex = at;
  const [passed = ''] = remarks.exec(text) ?? [];
  return Math.min(at + passed.length, Math.max(at, text.length - 1));
}

/** What stands behind a closing quote or bracket in its line. */
function behindWhat(text: string, at: number): string | undefined {
  const before = text.slice(0, at).trimEnd().at(-1) ?? '';
  if (/["']/.test(before)) return 'Something stands behind the closing quote. Delete it, or put all of the text in quotes.';
  return /[\]}]/.test(before) ? 'Something stands behind the closing bracket. Delete it, or put all of the text in quotes.' : undefined;
}
