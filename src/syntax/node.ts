import type { Span } from '../source/source.js';

/** YAML as plain data with positions; nothing behind this type knows which parser made it. */
export type SyntaxNode = ScalarNode | ListNode | MapNode;

export interface ScalarNode {
  readonly kind: 'scalar';
  readonly value: string | number | boolean | null;
  /** As written, without quotes: `00412` where the value is 412. */
  readonly source: string;
  readonly quoted: boolean;
  readonly span: Span;
  /** Reached through an alias (`*name`). */
  readonly aliased: boolean;
}

export interface ListNode {
  readonly kind: 'list';
  readonly items: readonly SyntaxNode[];
  readonly span: Span;
  readonly aliased: boolean;
}

export interface MapEntry {
  readonly key: string;
  readonly keySpan: Span;
  readonly value: SyntaxNode;
}

export interface MapNode {
  readonly kind: 'map';
  readonly entries: readonly MapEntry[];
  readonly span: Span;
  readonly aliased: boolean;
}

export const entryOf = (node: SyntaxNode | undefined, key: string): MapEntry | undefined =>
  node?.kind === 'map' ? node.entries.find((entry) => entry.key === key) : undefined;

/** The node at a path, as far as it exists. */
export function nodeAt(root: SyntaxNode, path: readonly (string | number)[]): SyntaxNode | undefined {
  let node: SyntaxNode | undefined = root;
  for (const part of path) {
    if (node?.kind === 'map') node = entryOf(node, String(part))?.value;
    else if (node?.kind === 'list') node = node.items[Number(part)];
    else return undefined;
  }
  return node;
}

/** The plain value. Keys such as `__proto__` stay ordinary keys. */
export function plain(node: SyntaxNode): unknown {
  if (node.kind === 'scalar') return node.value;
  if (node.kind === 'list') return node.items.map(plain);
  const object: Record<string, unknown> = {};
  for (const entry of node.entries) setOwn(object, entry.key, plain(entry.value));
  return object;
}

/** Sets an entry of its own, also under names that mean something to the language. */
export function setOwn(object: Record<string, unknown>, key: string, value: unknown): void {
  if (key === '__proto__') Object.defineProperty(object, key, { value, enumerable: true, configurable: true, writable: true });
  else object[key] = value;
}
