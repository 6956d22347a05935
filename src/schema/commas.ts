import type { ErrorObject } from 'ajv';
import type { Fix } from '../findings/finding.js';
import { withPoint } from '../quantity/unread.js';
import type { Span } from '../source/source.js';
import { entryOf, type MapEntry, nodeAt, type SyntaxNode } from '../syntax/node.js';

// What a comma did that was not meant to end something.

interface Comma {
  readonly message: string;
  readonly span: Span;
}

/** A decimal comma inside braces, with the values that it made of one. */
interface CommaInBraces extends Comma {
  readonly values: readonly SyntaxNode[];
}

/** `{ price: 41,00 }`: YAML ends the value at the comma and takes the rest for a key, of which any mistake may tell. */
export function decimalComma({ keyword, params }: ErrorObject, path: readonly (string | number)[], root: SyntaxNode): CommaInBraces | null {
  const named: unknown = params.additionalProperty ?? params.propertyName;
  const isOfName = keyword === 'additionalProperties' || keyword === 'propertyNames';
  const name = isOfName ? named : path.at(-1);
  const map = nodeAt(root, isOfName ? path : path.slice(0, -1));
  if (map?.kind !== 'map' || typeof name !== 'string' || !/^\d+( .*)?$/.test(name)) return null;
  const rest = map.entry(name);
  const before = rest && map.entries[map.entries.indexOf(rest) - 1];
  const comma = rest && isRest(rest) ? commaBetween(before?.value, name, rest.keySpan.end) : null;
  return comma && before && rest ? { ...comma, values: [before.value, rest.value] } : null;
}

/** `[24,12 mm, 24.11 mm]`: it ends the number, and takes the rest for another entry. */
export function decimalCommaIn(list: SyntaxNode | undefined, index: number): Comma | null {
  if (list?.kind !== 'list') return null;
  const [before, rest] = [list.items[index], list.items[index + 1]];
  if (rest?.kind !== 'scalar' || rest.quoted || !/^\d+ \D+$/.test(rest.source)) return null;
  return commaBetween(before, rest.source, rest.end);
}

function commaBetween(before: SyntaxNode | undefined, rest: string, end: number): Comma | null {
  if (before?.kind !== 'scalar' || before.quoted || !/^(?:\S+ )?\S*\d$/.test(before.source)) return null;
  // With a space behind it, it was meant to end something.
  if (/\s/.test(before.file.text.slice(before.end, end - rest.length))) return null;
  return {
    message: `“${before.source},${rest}” has a decimal comma. Write a point: ${withPoint(before.source, rest)}.`,
    span: { file: before.file, start: before.start, end },
  };
}

/** What is left of a text that a comma has cut: it is taken for a key without a value. */
const isRest = ({ value }: MapEntry): boolean => value.kind === 'scalar' && value.value === null && value.source === '';

/**
 * `{ says: belt, pump off }`: inside braces a comma ends the text, and its rest is taken for a key without a value. Of several
 * such rests the first tells it.
 * @returns what is wrong; `told` where an earlier rest of the same text says so; null where it is no such rest
 */
export function cutText(
  node: SyntaxNode,
  name: string,
): { readonly message: string; readonly span: Span; readonly fix: Fix } | 'told' | null {
  const entry = entryOf(node, name);
  if (node.kind !== 'map' || !entry || !isRest(entry)) return null;
  const { entries } = node;
  const at = entries.indexOf(entry);
  let first = at;
  while (first > 0 && isRest(entries[first - 1] ?? entry)) first--;
  const before = entries[first - 1];
  if (!before) return null;
  if (before.value.kind !== 'scalar' || before.value.quoted || typeof before.value.value !== 'string') return null;
  let last = at;
  while (last + 1 < entries.length && isRest(entries[last + 1] ?? entry)) last++;
  const { file, start } = before.value.span;
  const span: Span = { file, start, end: (entries[last] ?? entry).keySpan.end };
  const whole = file.text.slice(start, span.end);
  if (!whole.includes(',') || /["\\\n]/.test(whole)) return null;
  if (first < at) return 'told';
  return {
    message: `Inside braces a comma ends a text. Put the text of \`${before.key}\` in quotes: "${whole}".`,
    span,
    fix: { title: 'Put the text in quotes', edits: [{ span, text: `"${whole}"` }] },
  };
}
