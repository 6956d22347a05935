import { Bare } from '../bare.js';
import type { Finding, Fix } from '../findings/finding.js';
import { quoteFix } from '../findings/fixes.js';
import { type Amount, parseQuantity } from '../quantity/quantity.js';
import { D, type Dimension } from '../quantity/units.js';
import type { Span } from '../source/source.js';
import { limits } from '../syntax/limits.js';
import { inPrintersQuotes } from '../syntax/structure.js';
import { type ScalarNode, type SyntaxNode, setOwn } from '../syntax/node.js';
import type { AnyDocument } from './generated/types.js';
import { childSchema, type DocumentKind, documentSchema } from './lookup.js';
import type { SchemaNode } from './node.js';
import { isDamaged as damagedInside, setDamaged, setLost, setOrigin } from './origin.js';

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

/** An offer contains a volume, or a mass. */
const amountOf = (text: string): Dimension => {
  const read = parseQuantity(text, 'mass');
  return read.ok ? 'mass' : 'volume';
};

class Decoder {
  readonly findings: Finding[] = [];
  constructor(private readonly wrong: ReadonlySet<SyntaxNode>) {}

  value(node: SyntaxNode, schema: SchemaNode, key: string | number): unknown {
    const bad = this.wrong.has(node);
    if (bad && node.kind !== 'scalar' && !takes(schema, node.kind === 'list' ? 'array' : 'object')) return broken;
    if (node.kind === 'scalar') return bad ? broken : this.scalar(node, schema, key);
    if (node.kind === 'list') {
      const items: unknown[] = [];
      setOrigin(items, node);
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
    const object = new Bare();
    setOrigin(object, node);
    if (bad) setDamaged(object);
    for (const entry of node.entries) {
      const child = childSchema(schema, entry.key);
      if (!child) setLost(object);
      const value = child ? this.value(entry.value, child, entry.key) : broken;
      if (value === broken) setDamaged(object);
      else {
        if (typeof value === 'object' && value !== null && damagedInside(value)) setDamaged(object);
        setOwn(object, entry.key, value);
      }
    }
    const missing = (schema.required ?? []).some((name) => !Object.hasOwn(object, name));
    return missing ? broken : object;
  }

  private scalar(node: ScalarNode, schema: SchemaNode, key: string | number): unknown {
    if (!schema.quantity) return this.text(node, schema, key);
    if (schema.quantity === 'money' || schema.quantity === 'factor') return this.decimal(node, schema.quantity, key);
    if (schema.quantity === 'amount' && typeof node.value === 'number') return { pieces: node.value } satisfies Amount;
    const dimension: Dimension | 'any' =
      schema.quantity === 'amount' ? amountOf(String(node.value)) : (schema.quantity as Dimension | 'any');
    const result = parseQuantity(String(node.value), dimension);
    if (!result.ok) return this.report(`quantity/${result.problem}`, result.message, node.span);
    return schema.quantity === 'amount' ? ({ quantity: result.quantity } satisfies Amount) : result.quantity;
  }

  private decimal(node: ScalarNode, what: 'money' | 'factor', key: string | number): unknown {
    const written = node.quoted ? String(node.value) : node.source;
    if (/^\d+,\d+$/.test(written.trim()))
      return this.report(
        'quantity/decimal-comma',
        `“${written}” has a decimal comma. Write a point: ${written.replace(',', '.')}.`,
        node.span,
      );
    if (!/^-?\d{1,12}(\.\d{1,6})?$/.test(written.trim()))
      return this.report(
        `quantity/unreadable`,
        `“${written}” cannot be \`${key}\`. Write a plain number such as ${what === 'money' ? '74.50' : '1.25'}.`,
        node.span,
      );
    const value = new D(written.trim());
    if (value.isNegative()) return this.report('quantity/unreadable', `\`${key}\` cannot be negative.`, node.span);
    return value;
  }

  /** Codes keep every character; an unquoted `on` or `off` is a truth value to older readers of YAML. */
  private text(node: ScalarNode, schema: SchemaNode, key: string | number): unknown {
    if (typeof node.value === 'string' && node.value.length > limits.text)
      return this.report(
        'schema/out-of-range',
        `\`${key}\` is longer than ${limits.text} characters. Is a quote missing at its end, or was something else pasted here?`,
        node.span,
      );
    if (typeof node.value === 'string' && !node.quoted && !schema.enum && /^(on|off|yes|no|y|n)$/i.test(node.value)) {
      this.findings.push({
        rule: 'yaml/on-off',
        severity: 'warning',
        span: node.span,
        message: `\`${key}: ${node.value}\` is a text here, but true or false to other readers of YAML. Say the state in a word (connected, open, fitted), or put it in quotes.`,
        ...fixed(quoteFix(node.span)),
      });
    }
    if (typeof node.value === 'string' && !node.quoted && node.value.charCodeAt(0) > 127) {
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
