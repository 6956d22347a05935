import type { SourceFile, Span } from '../source/source.js';
import { slipOf } from '../findings/suggest.js';
import type { ListNode, MapEntry, MapNode, SyntaxNode } from '../syntax/node.js';
import { groupOf } from '../syntax/parse.js';
import type { Place } from '../syntax/values.js';

// Where every object and list of a decoded document came from: under symbols, so that neither the documents' types nor
// who goes through their keys sees it. A changed copy (`{ ...step }`) stands where the value stands.
const inFile = Symbol('file');
const group = Symbol('group');
type Placed = { [inFile]?: SourceFile; [group]?: number };
const damaged = new WeakSet<object>();

const aliased = new WeakSet<object>();

export const setOrigin: Place = (value, file, number) => {
  (value as Placed)[inFile] = file;
  (value as Placed)[group] = number;
};

/** Notes that it is reached through an alias (`*name`), and stands elsewhere. */
export const setAliased = (value: object): void => void aliased.add(value);

export const isAliased = (value: object): boolean => aliased.has(value);

export const setDamaged = (value: object): void => void damaged.add(value);

/** A changed copy of a value stands where the value stands. */
export function keepOrigin<T extends object>(from: object, copy: T): T {
  Object.assign(copy, { [inFile]: (from as Placed)[inFile], [group]: (from as Placed)[group] });
  return copy;
}

const lost = new WeakSet<object>();
export const setLost = (value: object): void => void lost.add(value);

/** Whether this object has a key in the file that nobody knows: part of it is then missing here. */
export const hasLost = (value: object): boolean => lost.has(value);

/** Whether something inside this value could not be read; what it lacks must not be reported a second time. */
export const isDamaged = (value: object): boolean => damaged.has(value);

function nodeOf(value: object): ListNode | MapNode | undefined {
  const { [inFile]: file, [group]: number } = value as Placed;
  return file && number !== undefined ? groupOf(file, number) : undefined;
}

/** Whether a value is an object or list of a document, and no quantity or amount that was made of a text. */
export const isPlaced = (value: unknown): value is object => typeof value === 'object' && value !== null && group in value;

function placedNode(value: object): ListNode | MapNode {
  const node = nodeOf(value);
  if (!node) throw new Error('a value that came from no file was asked for its place');
  return node;
}

/** The file that a decoded value stands in. */
export function fileWith(value: object): SourceFile {
  const file = (value as Placed)[inFile];
  if (!file) throw new Error('a value that came from no file was asked for its file');
  return file;
}

/**
 * The place of a decoded value, or of one of its entries: the value's for `part: 'value'`, the key's for `'key'`.
 * Falls back to the whole value where the entry does not stand in the file.
 */
export function spanOf(value: object, key?: string | number, part: 'value' | 'key' = 'value'): Span {
  const node = placedNode(value);
  if (key === undefined) return firstLine(node);
  if (node.kind === 'map') {
    const entry = node.entry(String(key)) ?? slipFor(node, value, String(key));
    if (entry) return part === 'key' ? entry.keySpan : firstLine(entry.value, entry.keySpan);
  }
  if (node.kind === 'list') {
    const item = node.items[Number(key)];
    if (item) return firstLine(item);
  }
  return firstLine(node);
}

/** The entry that was read as one of this key, as its own key can only be a slip of it. */
const slipFor = (node: MapNode, value: object, key: string): MapEntry | undefined =>
  isDamaged(value) && Object.hasOwn(value, key) ? node.entries.find((entry) => slipOf(entry.key, [key]) !== null) : undefined;

/** The place of a name that stands under a key: alone, or in a list. */
export function spanOfName(holder: object, key: string, name: string): Span {
  const written: unknown = Reflect.get(holder, key);
  const at = Array.isArray(written) ? written.indexOf(name) : -1;
  return Array.isArray(written) && at >= 0 ? spanOf(written, at) : spanOf(holder, key);
}

/** A block's span is its first line: nobody wants ten lines underlined. */
function firstLine(node: SyntaxNode, keySpan?: Span): Span {
  const span = node.span;
  if (node.kind === 'scalar' && span.end > span.start) return span;
  if (keySpan && span.end - span.start > 60) return keySpan;
  if (node.kind === 'map') {
    const first = node.entries[0];
    if (first) {
      const end = first.value.kind === 'scalar' && first.value.span.end > first.keySpan.end ? first.value.span.end : first.keySpan.end;
      return { file: span.file, start: Math.min(span.start, first.keySpan.start), end };
    }
  }
  const lineEnd = span.file.text.indexOf('\n', span.start);
  return { file: span.file, start: span.start, end: lineEnd < 0 ? span.end : Math.max(span.start, Math.min(span.end, lineEnd)) };
}

/** Whether the file has an entry of this name, also one that could not be read. */
export function isWritten(map: object | undefined, key: string): boolean {
  const node = map && nodeOf(map);
  return node?.kind === 'map' && node.entry(key) !== undefined;
}

/** The keys of an object in its file, also those of entries that could not be read. */
export function keysOf(map: object): readonly string[] {
  const node = nodeOf(map);
  return node?.kind === 'map' ? node.entries.map(({ key }) => key) : Object.keys(map);
}

/** All of an entry of a list, to its last line. */
export function wholeSpan(list: object, index: number): Span {
  const node = nodeOf(list);
  const item = node?.kind === 'list' ? node.items[index] : undefined;
  return item ? item.span : spanOf(list);
}
