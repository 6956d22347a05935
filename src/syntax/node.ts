import type { SourceFile, Span } from '../source/source.js';

/** YAML as plain data with positions; nothing behind this type knows which parser made it. */
export type SyntaxNode = ScalarNode | ListNode | MapNode;

/** Where a node stands; its span is made when somebody asks for it, which is seldom. */
abstract class PlacedNode {
  constructor(
    readonly file: SourceFile,
    readonly start: number,
    readonly end: number,
    /** Reached through an alias (`*name`). */
    readonly aliased: boolean,
  ) {}

  get span(): Span {
    return { file: this.file, start: this.start, end: this.end };
  }
}

export class ScalarNode extends PlacedNode {
  readonly kind = 'scalar';
  /** @param source as written, without quotes: `00412` where the value is 412 */
  constructor(
    readonly value: string | number | boolean | null,
    readonly source: string,
    readonly quoted: boolean,
    file: SourceFile,
    start: number,
    end: number,
    aliased: boolean,
  ) {
    super(file, start, end, aliased);
  }
}

/** Lists and maps of a file are numbered, so that one can be found again when the file is read again. */
export class ListNode extends PlacedNode {
  readonly kind = 'list';
  constructor(
    readonly items: readonly SyntaxNode[],
    readonly number: number,
    file: SourceFile,
    start: number,
    end: number,
    aliased: boolean,
  ) {
    super(file, start, end, aliased);
  }
}

export class MapEntry {
  constructor(
    readonly key: string,
    readonly value: SyntaxNode,
    private readonly keyStart: number,
    private readonly keyEnd: number,
  ) {}

  get keySpan(): Span {
    return { file: this.value.file, start: this.keyStart, end: this.keyEnd };
  }

  /** The same entry with another key, at its place. */
  as(key: string, value: SyntaxNode): MapEntry {
    return new MapEntry(key, value, this.keyStart, this.keyEnd);
  }
}

/** So many entries are looked through faster than a table of them is made. */
const few = 16;

export class MapNode extends PlacedNode {
  readonly kind = 'map';
  private byKey: ReadonlyMap<string, MapEntry> | undefined;

  constructor(
    readonly entries: readonly MapEntry[],
    readonly number: number,
    file: SourceFile,
    start: number,
    end: number,
    aliased: boolean,
  ) {
    super(file, start, end, aliased);
  }

  entry(key: string): MapEntry | undefined {
    if (this.entries.length <= few) return this.entries.find((entry) => entry.key === key);
    this.byKey ??= new Map(this.entries.map((entry) => [entry.key, entry]));
    return this.byKey.get(key);
  }
}

export const entryOf = (node: SyntaxNode | undefined, key: string): MapEntry | undefined =>
  node?.kind === 'map' ? node.entry(key) : undefined;

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

/** The same nodes at the same places, some entries with another key and some scalars with another text; the rest is shared. */
export function withOthers(node: SyntaxNode, others: ReadonlyMap<MapEntry | ScalarNode, string>): SyntaxNode {
  if (node.kind === 'scalar') {
    const text = others.get(node);
    return text === undefined ? node : new ScalarNode(text, text, true, node.file, node.start, node.end, node.aliased);
  }
  if (node.kind === 'list') {
    const items = node.items.map((item) => withOthers(item, others));
    const isSame = items.every((item, n) => item === node.items[n]);
    return isSame ? node : new ListNode(items, node.number, node.file, node.start, node.end, node.aliased);
  }
  const entries = node.entries.map((entry) => {
    const value = withOthers(entry.value, others);
    const key = others.get(entry) ?? entry.key;
    return value === entry.value && key === entry.key ? entry : entry.as(key, value);
  });
  const isSame = entries.every((entry, n) => entry === node.entries[n]);
  return isSame ? node : new MapNode(entries, node.number, node.file, node.start, node.end, node.aliased);
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
