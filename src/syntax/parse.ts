import { type Event, eventsOf, type ScalarEvent, yaml } from './events.js';
import { inWords } from './explain.js';
import type { Finding, Staged } from '../findings/finding.js';
import type { SourceFile, Span } from '../source/source.js';
import { Few, once } from '../once.js';
import { limits } from './limits.js';
import { ListNode, MapEntry, MapNode, ScalarNode, type SyntaxNode } from './node.js';
import { plainValue } from './scalar.js';

/**
 * Reads one YAML 1.2 document into plain data with positions.
 * Syntax errors become findings of the `yaml` family; the value is null where the file cannot be understood at all.
 * @param read the events of the file, where they are at hand
 */
export function parse(file: SourceFile, read = eventsOf(file)): Staged<SyntaxNode | null> {
  const { value, findings } = nodesOf(file, read);
  return { value, findings };
}

type Group = ListNode | MapNode;

function nodesOf(
  file: SourceFile,
  read: Staged<readonly Event[] | null>,
): Staged<SyntaxNode | null> & { readonly groups: readonly Group[] } {
  const findings = [...read.findings];
  if (!read.value) return { value: null, findings, groups: [] };
  const reader = new Reader(file, read.value, findings);
  const value = reader.read(1, 0, false, -1, -1);
  return { value: reader.refused ? null : value, findings, groups: reader.refused ? [] : reader.groups };
}

const groups = new Few<SourceFile, readonly Group[]>(16);

/**
 * A list or map of a file that has been read, by its number. Places are asked for only where something is found, so
 * nobody keeps the nodes: the file is read again, in the same way, at the first question, and kept for the next few.
 */
export const groupOf = (file: SourceFile, number: number): Group | undefined =>
  once(groups, file, () => nodesOf(file, eventsOf(file)).groups)[number];

const { SCALAR, MAPPING, SEQUENCE, ALIAS, POP } = yaml.EVENT_ID;

/** Builds nodes from events. `at` and `end` move along: the next event, and where the text of the last one ends. */
class Reader {
  refused = false;
  private at = 0;
  private end = 0;
  /** Lists and maps by their numbers. */
  readonly groups: Group[] = [];
  private nodes = 0;
  private numbers = 0;
  private aliases = 0;
  /** Where the node of an anchor begins, by name; a node that is not finished yet holds itself. */
  private readonly anchors = new Map<string, { readonly at: number; finished: boolean }>();

  constructor(
    private readonly file: SourceFile,
    private readonly events: readonly Event[],
    private readonly findings: Finding[],
  ) {}

  /**
   * @param at index of the event that begins the node
   * @param from where the key that holds it begins, and `to` where that ends; -1 where nothing holds it
   */
  read(at: number, depth: number, aliased: boolean, from: number, to: number): SyntaxNode {
    const event = this.events[at];
    this.at = at + 1;
    if (!event || this.refused) return this.nothing(from, to, aliased);
    if (++this.nodes > limits.nodes || depth > limits.depth) {
      this.refuse(
        from < 0 ? this.span(0, 1) : this.span(from, to),
        depth > limits.depth
          ? `This is nested more than ${limits.depth} deep. No document of this library is.`
          : 'This file unfolds to more values than any document of this library has.',
      );
      return this.nothing(from, to, aliased);
    }
    if (event.type === ALIAS) return this.alias(event.anchorStart, event.anchorEnd, depth);
    if (event.type !== SCALAR && event.type !== MAPPING && event.type !== SEQUENCE) return this.nothing(from, to, aliased);
    const anchor = event.anchorStart < 0 || aliased ? null : { at, finished: false };
    if (anchor) this.anchors.set(this.file.text.slice(event.anchorStart, event.anchorEnd), anchor);
    const tag = event.tagStart < 0 ? '' : this.file.text.slice(event.tagStart, event.tagEnd);
    if (tag !== '' && !knownTags.has(tag) && !aliased) {
      // Nothing behind it: the tag was meant as a text.
      const isText = event.type === SCALAR && event.valueStart < 0;
      this.findings.push(inWords(this.file, isText ? 'TEXT_AS_TAG' : 'TAG_RESOLVE_FAILED', '', [event.tagStart, event.tagEnd]));
      this.refused ||= isText;
    }
    const node =
      event.type === SCALAR
        ? this.scalar(event, tag === '!!str' || tag === '!', aliased, from, to)
        : event.type === SEQUENCE
          ? this.list(event.start, event.style === flow, depth, aliased)
          : this.map(event.start, event.style === flow, depth, aliased);
    if (anchor) anchor.finished = true;
    return node;
  }

  private scalar(event: ScalarEvent, asText: boolean, aliased: boolean, from: number, to: number): ScalarNode {
    const { valueStart: start, valueEnd: end } = event;
    const { file } = this;
    if (start < 0) return asText ? this.placed('', '', true, from, to, aliased) : this.nothing(from, to, aliased);
    if (event.style === yaml.SCALAR_STYLE_PLAIN) {
      this.end = end;
      const source = yaml.getScalarValue(file.text, event);
      return new ScalarNode(asText ? source : plainValue(source), source, asText, file, start, end, aliased);
    }
    const value = yaml.getScalarValue(file.text, event);
    const block = event.style === yaml.SCALAR_STYLE_LITERAL_BLOCK || event.style === yaml.SCALAR_STYLE_FOLDED_BLOCK;
    const sign = event.style === yaml.SCALAR_STYLE_LITERAL_BLOCK ? '|' : '>';
    const first = block ? Math.max(0, file.text.lastIndexOf(sign, start - 1)) : start - 1;
    this.end = block ? end : end + 1;
    return new ScalarNode(value, value, true, file, first, this.end, aliased);
  }

  private list(start: number, closed: boolean, depth: number, aliased: boolean): ListNode {
    const number = this.numbers++;
    this.end = start;
    const items: SyntaxNode[] = [];
    for (let event = this.events[this.at]; event && event.type !== POP && !this.refused; event = this.events[this.at]) {
      // An entry without a value stands where its dash does.
      const from = event.type === SCALAR && event.valueStart < 0 && !closed && !aliased ? this.dashBehind(this.end, start) : start;
      items.push(this.read(this.at, depth + 1, aliased, from, from + 1));
      if (from > start) this.end = from + 1;
    }
    this.at++;
    if (closed) this.close(start, 93);
    const node = new ListNode(items, number, this.file, start, Math.max(start, this.end), aliased);
    this.groups[number] = node;
    return node;
  }

  /** Where the next dash of a list stands, behind spaces and remarks; where its first does, if there is none. */
  private dashBehind(at: number, first: number): number {
    nextDash.lastIndex = at;
    return nextDash.test(this.file.text) ? nextDash.lastIndex - 1 : first;
  }

  private map(start: number, closed: boolean, depth: number, aliased: boolean): MapNode {
    const number = this.numbers++;
    this.end = start;
    const entries: MapEntry[] = [];
    while (this.at < this.events.length && this.events[this.at]?.type !== POP && !this.refused) {
      const keyNode = this.read(this.at, depth + 1, aliased, this.end, this.end);
      const { start: keyStart, end: keyEnd } = keyNode;
      const key = keyOf(keyNode);
      const value = this.read(this.at, depth + 1, aliased, keyStart, keyEnd);
      if (key === null) {
        if (!aliased) this.findings.push(inWords(this.file, 'NO_TEXT_AS_KEY', '', [keyStart, Math.max(keyEnd, keyStart + 1)]));
        continue;
      }
      if (key.length > limits.key)
        this.refuse(keyNode.span, `This key has more than ${limits.key} characters. Is a colon missing before it?`, 'yaml/syntax');
      entries.push(new MapEntry(key, value, keyStart, keyEnd));
    }
    this.at++;
    if (closed) this.close(start, 125);
    const node = new MapNode(this.once(entries, aliased), number, this.file, start, Math.max(start, this.end), aliased);
    this.groups[number] = node;
    return node;
  }

  /** Of entries with the same key the first counts. */
  private once(entries: MapEntry[], aliased: boolean): MapEntry[] {
    if (entries.length <= few && entries.every((entry, n) => entries.findIndex((other) => other.key === entry.key) === n)) return entries;
    const seen = new Set<string>();
    return entries.filter(({ key, keySpan }) => {
      if (seen.has(key) && !aliased && this.findings.length < limits.mistakes)
        this.findings.push(inWords(this.file, 'DUPLICATE_KEY', '', [keySpan.start, keySpan.end]));
      return seen.size !== seen.add(key).size;
    });
  }

  /** Moves the end behind the bracket that closes a flow collection: only spaces, commas and comments lie before it. */
  private close(start: number, bracket: number): void {
    const { text } = this.file;
    for (let i = Math.max(this.end, start + 1); i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === 35) i = (text.indexOf('\n', i) + 1 || text.length + 1) - 1;
      else if (c === bracket) {
        this.end = i + 1;
        return;
      }
    }
  }

  private alias(start: number, end: number, depth: number): SyntaxNode {
    const { at: after } = this;
    const from = start - 1;
    this.end = end;
    if (++this.aliases > limits.aliases) {
      this.refuse(this.span(from, end), `More than ${limits.aliases} aliases (\`*name\`) in one file. Write the values out.`);
      return this.nothing(from, end, true);
    }
    const anchor = this.anchors.get(this.file.text.slice(start, end));
    if (!anchor?.finished) {
      this.findings.push(inWords(this.file, 'BAD_ALIAS', '', [from, end]));
      this.refused = true;
      return this.nothing(from, end, true);
    }
    const node = this.read(anchor.at, depth + 1, true, from, end);
    this.at = after;
    this.end = end;
    return node;
  }

  private nothing(from: number, to: number, aliased: boolean): ScalarNode {
    return this.placed(null, '', false, from, to, aliased);
  }

  /** A value that is not written, where its key stands. */
  private placed(value: string | null, source: string, quoted: boolean, from: number, to: number, aliased: boolean): ScalarNode {
    return new ScalarNode(value, source, quoted, this.file, Math.max(0, from), Math.max(0, from, to), aliased);
  }

  private refuse(span: Span, message: string, rule = 'yaml/too-deep'): void {
    if (!this.refused) this.findings.push({ rule, severity: 'error', message, span });
    this.refused = true;
  }

  private span(start: number, end: number): Span {
    return { file: this.file, start, end: Math.max(start, end) };
  }
}

const flow = yaml.COLLECTION_STYLE_FLOW;

const nextDash = /(?:\s|#.*\n)*-/y;

/** So many keys are compared with each other faster than a set of them is made. */
const few = 8;

/** The text of a key; null where it has none: nothing before the colon, or a list or group. */
function keyOf(node: SyntaxNode): string | null {
  if (node.kind !== 'scalar' || (node.source === '' && !node.quoted)) return null;
  return typeof node.value === 'string' ? node.value : node.source;
}

/** Tags of YAML itself that mean a text or say what is plain anyway. */
const knownTags: ReadonlySet<string> = new Set(['!', '!!str', '!!map', '!!seq']);
