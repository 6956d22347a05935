import { once } from '../once.js';
import { closest, isSwapped } from './suggest.js';
import type { SourceFile, Span } from '../source/source.js';
import type { Finding, Fix } from './finding.js';

/**
 * Renames what was written to the one name that it can only be: two slips off at most, and no other name as near.
 * @param span where the name stands, in quotes or not
 */
export function renameFix(span: Span, written: string, known: Iterable<string>): Fix | undefined {
  const text = span.file.text.slice(span.start, span.end);
  const bare = text.replace(/^(["'])(.*)\1$/, '$2');
  if (bare !== written) return undefined;
  const best = closest(written, known, 2);
  if (!best?.alone || best.apart * 3 > written.length + 1 || isCounterpart(written, best.name)) return undefined;
  return { title: `Write \`${best.name}\``, edits: [{ span, text: text.replace(bare, () => best.name) }] };
}

/**
 * `gasket-a` and `gasket-b`, `rear-cover` and `gear-cover` are two things, and neither is a slip for the other: a short
 * word with another letter in it may be another word. Long ones are so near to each other only by a slip.
 */
function isCounterpart(one: string, other: string): boolean {
  const [parts, others] = [one.toLowerCase().split('-'), other.toLowerCase().split('-')];
  return parts.length === others.length && parts.some((part, n) => isOtherWord(part, others[n] ?? ''));
}

const isOtherWord = (one: string, other: string): boolean =>
  one !== other && one.length === other.length && one.length <= 6 && !isSwapped(one, other);

/** Puts a plain scalar into quotes as it stands, so that YAML keeps every character. */
export function quoteFix(span: Span): Fix | undefined {
  const text = span.file.text.slice(span.start, span.end);
  if (text === '' || /["'\\\n]/.test(text)) return undefined;
  return { title: 'Put it in quotes', edits: [{ span, text: `"${text}"` }] };
}

/** Makes a list of a single name; undefined for anything else. */
export function listFix(span: Span): Fix | undefined {
  const text = span.file.text.slice(span.start, span.end);
  return /^[\w$@./-]+$/.test(text) ? { title: `Write [${text}]`, edits: [{ span, text: `[${text}]` }] } : undefined;
}

/**
 * Adds a step to a list of steps, as the others stand; undefined for a list on one line.
 * @param other the step beside which it stands, to its last line
 */
export function addStepFix(where: 'before' | 'behind', other: Span, step: string): Fix | undefined {
  const { file } = other;
  const { text } = file;
  const lineStart = text.lastIndexOf('\n', other.start - 1) + 1;
  const indent = /^(\s*)- /.exec(text.slice(lineStart, other.start + 1))?.[1];
  if (indent === undefined) return undefined;
  const added = `${indent}- ${step}`;
  const last = other.start + text.slice(other.start, other.end).trimEnd().length;
  // To the end of its last line, which may have a remark, and as this line ends.
  const [rest = ''] = /^.*?(?=\r?\n|$)/.exec(text.slice(last)) ?? [];
  const lineEnd = text.startsWith('\r\n', last + rest.length) ? '\r\n' : '\n';
  const at = where === 'before' ? lineStart : last + rest.length;
  const edit = { span: { file, start: at, end: at }, text: where === 'before' ? `${added}${lineEnd}` : `${lineEnd}${added}` };
  return { title: `Add \`${step}\``, edits: [edit] };
}

/** Numbers in a text; a fix must leave them as they are. */
const numbers = (text: string): string => (text.match(/\d+/g) ?? []).join(' ');

export interface Mended {
  readonly file: SourceFile;
  readonly text: string;
}

/**
 * Applies the fixes of findings to the texts of their files. Fixes that overlap wait for the next run, and one that
 * would change a number is left out.
 */
export function applyFixes(findings: readonly Finding[]): { readonly files: readonly Mended[]; readonly count: number } {
  const byFile = new Map<string, Edits>();
  const editsOf = ({ file }: Span): Edits => once(byFile, file.path, () => new Edits(file));
  let count = 0;
  for (const { fix } of findings) {
    if (!fix) continue;
    const safe = fix.edits.every(
      ({ span, text }) => span.start === span.end || numbers(span.file.text.slice(span.start, span.end)) === numbers(text),
    );
    if (!safe || !fix.edits.every(({ span }) => editsOf(span).isFree(span))) continue;
    count++;
    for (const edit of fix.edits) editsOf(edit.span).add(edit);
  }
  const changed = [...byFile.values()].filter(({ isEmpty }) => !isEmpty);
  return { files: changed.map((edits) => ({ file: edits.file, text: edits.applied() })), count };
}

type Edit = Fix['edits'][number];

/** Changes of a file, in the order in which they stand in it. */
class Edits {
  private readonly all: Edit[] = [];

  constructor(readonly file: SourceFile) {}

  get isEmpty(): boolean {
    return this.all.length === 0;
  }

  /** Whether no other change reaches a place, or touches it. */
  isFree(span: Span): boolean {
    const at = this.behind(span.start);
    const [before, after] = [this.all[at - 1], this.all[at]];
    return (before === undefined || before.span.end < span.start) && (after === undefined || after.span.start > span.end);
  }

  add(edit: Edit): void {
    this.all.splice(this.behind(edit.span.start), 0, edit);
  }

  applied(): string {
    const pieces: string[] = [];
    let from = 0;
    for (const { span, text } of this.all) {
      pieces.push(this.file.text.slice(from, span.start), text);
      from = span.end;
    }
    return pieces.join('') + this.file.text.slice(from);
  }

  /** How many changes begin at a place or before it; mostly the last is among them. */
  private behind(start: number): number {
    let [low, high] = [0, this.all.length];
    if ((this.all[high - 1]?.span.start ?? -1) <= start) return high;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.all[middle]?.span.start ?? 0) <= start) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
