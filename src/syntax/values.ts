import { InDocument } from '../bare.js';
import type { SourceFile } from '../source/source.js';
import { type Event, type ScalarEvent, yaml } from './events.js';
import { isTooLong, limits } from './limits.js';
import { isOnOff, isPlainNumber, plainValue } from './scalar.js';
import { beginsInQuotes } from './structure.js';

/** Takes a list or object of a file with its number there, the same that its node has. */
export type Place = (value: object, file: SourceFile, number: number) => void;

/**
 * The plain value of a file in which nothing is unusual, straight from its events: objects without a prototype, lists,
 * texts, numbers as they are written, true, false and null. Null for all others, such as those with an alias, a tag, a key
 * that stands twice, `1e3` or `off`: their nodes are asked, and may have something to tell.
 */
export function valueIn(file: SourceFile, events: readonly Event[], place: Place): unknown {
  const reader = new ValueReader(file, events, place);
  const value = reader.read(0);
  return reader.isUnusual ? null : value;
}

const { SCALAR, MAPPING, SEQUENCE, POP } = yaml.EVENT_ID;

class ValueReader {
  isUnusual = false;
  /** The next event; the first begins the document. */
  private at = 1;
  private values = 0;
  private groups = 0;
  /** Items of the lists that are being read: a list that grows by itself takes room for sixteen that do not come. */
  private readonly stack: unknown[] = [];

  constructor(
    private readonly file: SourceFile,
    private readonly events: readonly Event[],
    private readonly place: Place,
  ) {}

  read(depth: number): unknown {
    const event = this.events[this.at++];
    if (!event || this.isUnusual || ++this.values > limits.nodes || depth > limits.depth) return this.giveUp();
    if (event.type !== SCALAR && event.type !== SEQUENCE && event.type !== MAPPING) return this.giveUp();
    if (isMarked(event)) return this.giveUp();
    return event.type === SCALAR ? this.scalar(event) : event.type === SEQUENCE ? this.list(depth) : this.object(depth);
  }

  private scalar(event: ScalarEvent): unknown {
    if (event.valueStart < 0) return null;
    const text = yaml.getScalarValue(this.file.text, event);
    if (isTooLong(text) || beginsInQuotes(text)) return this.giveUp();
    if (event.style !== yaml.SCALAR_STYLE_PLAIN) return text;
    const value = plainValue(text);
    const saysAll = typeof value === 'number' ? isPlainNumber(text) : !isOnOff(text);
    return saysAll ? value : this.giveUp();
  }

  private list(depth: number): unknown[] {
    const group = this.groups++;
    const { stack } = this;
    const from = stack.length;
    while (this.goesOn()) stack.push(this.read(depth + 1));
    this.at++;
    const items = stack.slice(from);
    stack.length = from;
    this.place(items, this.file, group);
    return items;
  }

  private object(depth: number): object {
    const object = new InDocument();
    this.place(object, this.file, this.groups++);
    while (this.goesOn()) {
      const key = this.key(depth + 1);
      const value = this.read(depth + 1);
      if (key === null || Object.hasOwn(object, key)) this.giveUp();
      else object[key] = value;
    }
    this.at++;
    return object;
  }

  /** The text of a key, as it is written. */
  private key(depth: number): string | null {
    const event = this.events[this.at++];
    if (event?.type !== SCALAR || isMarked(event) || event.valueStart < 0 || ++this.values > limits.nodes || depth > limits.depth)
      return null;
    const text = yaml.getScalarValue(this.file.text, event);
    return text.length > limits.key || (text === '' && event.style === yaml.SCALAR_STYLE_PLAIN) ? null : text;
  }

  private goesOn(): boolean {
    const event = this.events[this.at];
    return event !== undefined && event.type !== POP && !this.isUnusual;
  }

  private giveUp(): null {
    this.isUnusual = true;
    return null;
  }
}

/** With an anchor or a tag. */
const isMarked = (event: { readonly anchorStart: number; readonly tagStart: number }): boolean =>
  event.anchorStart >= 0 || event.tagStart >= 0;
