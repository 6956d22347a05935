import { InDocument } from '../bare.js';
import type { Finding, Fix } from '../findings/finding.js';
import { quoteFix } from '../findings/fixes.js';
import { parseQuantity } from '../quantity/quantity.js';
import type { Span } from '../source/source.js';
import { isTooLong, limits } from '../syntax/limits.js';
import { isOnOff } from '../syntax/scalar.js';
import { beginsInQuotes, inPrintersQuotes } from '../syntax/structure.js';
import { type ScalarNode, type SyntaxNode, setOwn } from '../syntax/node.js';
import type { AnyDocument } from './generated/types.js';
import { figureOf, type Scalar, Unreadable } from './figure.js';
import type { Form } from './form.js';
import { forms } from './generated/forms.js';
import { childSchema, type DocumentKind, documentSchema } from './lookup.js';
import type { SchemaNode } from './node.js';
import { isDamaged as damagedInside, setAliased, setDamaged, setLost, setOrigin } from './origin.js';

const fixed = (fix: Fix | undefined): { fix?: Fix } => (fix ? { fix } : {});

/** What stands in for a part that could not be read; it never leaves this file. */
const broken = Symbol('broken');

export interface Decoded {
  /** The document with quantities and money parsed; what was wrong is left out, and what held it is marked as damaged. */
  readonly document: AnyDocument | null;
  readonly findings: readonly Finding[];
}

/**
 * Turns a checked syntax tree into the document type made from the schema. Quantities and amounts of money are
 * parsed here, once; each object and list remembers where it stands (`spanOf`).
 */
export function decode(root: SyntaxNode, kind: DocumentKind, wrong: ReadonlySet<SyntaxNode>): Decoded {
  const decoder = new Decoder(wrong);
  const value = decoder.value(root, documentSchema(kind), kind);
  const usable = value !== broken && typeof value === 'object' && value !== null;
  return { document: usable ? (value as AnyDocument) : null, findings: decoder.findings };
}

const takes = (schema: SchemaNode, shape: 'array' | 'object'): boolean =>
  (schema.type === undefined && !schema.enum && schema.const === undefined) ||
  schema.type === shape ||
  (Array.isArray(schema.type) && schema.type.includes(shape));

/**
 * The document in a plain value that is right by its schema, made of the value itself; null where a figure cannot be read,
 * of which `decode` says why.
 */
export function decodeRight(value: unknown, kind: DocumentKind): AnyDocument | null {
  const document = meaningOf(value, forms[kind], kind);
  return document === broken ? null : (document as AnyDocument);
}

function meaningOf(value: unknown, form: Form, key: string): unknown {
  if (typeof value !== 'object' || value === null) {
    if (!form.quantity) return value;
    const figure = figureOf(value as Scalar, String(value), form, key);
    return figure instanceof Unreadable ? broken : figure;
  }
  if (Array.isArray(value)) {
    const { items } = form;
    if (!items) return value;
    for (let n = 0; n < value.length; n++) {
      const made = meaningOf(value[n], items, key);
      if (made === broken) return broken;
      if (made !== value[n]) value[n] = made;
    }
    return value;
  }
  const { keys, others } = form;
  const object = value as Record<string, unknown>;
  for (const name in object) {
    const inner = keys?.[name] ?? others;
    if (!inner) continue;
    const made = meaningOf(object[name], inner, name);
    if (made === broken) return broken;
    if (made !== object[name]) object[name] = made;
  }
  return object;
}

class Decoder {
  readonly findings: Finding[] = [];
  constructor(private readonly wrong: ReadonlySet<SyntaxNode>) {}

  value(node: SyntaxNode, schema: SchemaNode, key: string | number): unknown {
    const bad = this.wrong.has(node);
    if (bad && node.kind !== 'scalar' && !takes(schema, node.kind === 'list' ? 'array' : 'object')) return broken;
    if (node.kind === 'scalar') return bad ? broken : this.scalar(node, schema, key);
    if (node.kind === 'list') {
      const items: unknown[] = [];
      setOrigin(items, node.file, node.number);
      if (node.aliased) setAliased(items);
      if (bad) setDamaged(items);
      node.items.forEach((item, index) => {
        const value = this.value(item, childSchema(schema, index) ?? {}, key);
        if (value === broken) setDamaged(items);
        else {
          if (typeof value === 'object' && value !== null && damagedInside(value)) setDamaged(items);
          items.push(value);
        }
      });
      return items;
    }
    const object = new InDocument();
    setOrigin(object, node.file, node.number);
    if (node.aliased) setAliased(object);
    if (bad) setDamaged(object);
    for (const entry of node.entries) {
      const child = childSchema(schema, entry.key);
      if (!child) setLost(object);
      const value = child ? this.value(entry.value, child, entry.key) : broken;
      if (value === broken && child?.quantity) this.nameOther(schema, entry.key, entry.value);
      if (value === broken) setDamaged(object);
      else {
        if (typeof value === 'object' && value !== null && damagedInside(value)) setDamaged(object);
        setOwn(object, entry.key, value);
      }
    }
    const missing = (schema.required ?? []).some((name) => !Object.hasOwn(object, name));
    return missing ? broken : object;
  }

  /** What is of another dimension belongs to the one key beside it that takes that. */
  private nameOther({ properties }: SchemaNode, key: string, value: SyntaxNode): void {
    const told = this.findings.at(-1);
    if (told?.rule !== 'quantity/wrong-dimension' || told.span.start !== value.span.start || value.kind !== 'scalar') return;
    const read = parseQuantity(String(value.value), 'any');
    const { dimension } = read.ok ? read.quantity.unit : {};
    const [other, ...others] = Object.keys(properties ?? {}).filter((name) => name !== key && properties?.[name]?.quantity === dimension);
    if (other === undefined || others.length > 0) return;
    this.findings[this.findings.length - 1] = { ...told, message: `${told.message} Is it \`${other}: ${value.source}\`?` };
  }

  private scalar(node: ScalarNode, schema: SchemaNode, key: string | number): unknown {
    if (!schema.quantity) return this.text(node, schema, key);
    const written = node.quoted ? String(node.value) : node.source;
    const figure = figureOf(node.value, written, schema, key);
    return figure instanceof Unreadable ? this.report(figure.rule, figure.message, node.span) : figure;
  }

  /** Codes keep every character; an unquoted `on` or `off` is a truth value to older readers of YAML. */
  private text(node: ScalarNode, schema: SchemaNode, key: string | number): unknown {
    if (typeof node.value === 'string' && isTooLong(node.value))
      return this.report(
        'schema/out-of-range',
        `\`${key}\` is longer than ${limits.text} characters. Is a quote missing at its end, or was something else pasted here?`,
        node.span,
      );
    if (typeof node.value === 'string' && !node.quoted && !schema.enum && isOnOff(node.value)) {
      this.findings.push({
        rule: 'yaml/on-off',
        severity: 'warning',
        span: node.span,
        message: `\`${key}: ${node.value}\` is a text here, but true or false to other readers of YAML. Say the state in a word (connected, open, fitted), or put it in quotes.`,
        ...fixed(quoteFix(node.span)),
      });
    }
    if (typeof node.value === 'string' && !node.quoted && beginsInQuotes(node.value)) {
      const quoted = inPrintersQuotes(node.span);
      if (quoted) this.findings.push(quoted);
    }
    return node.value;
  }

  private report(rule: string, message: string, span: Span): typeof broken {
    this.findings.push({ rule, severity: 'error', message, span });
    return broken;
  }
}
