import type { MapEntry, SyntaxNode } from '../syntax/node.js';
import { figureOf, Unreadable } from './figure.js';
import type { SchemaNode } from './node.js';

/** Words for what a group of keys says of one quantity. */
const sides = [
  ['low', /^(?:min|minimum|low|lower|least|at-least|from)$/],
  ['high', /^(?:max|maximum|high|upper|most|at-most|to)$/],
  ['value', /^(?:value|amount|nominal|target|size|quantity|figure|number)$/],
  ['by', /^(?:tolerance|tol|plus-minus|deviation|±)$/],
  ['unit', /^(?:unit|units|uom)$/],
] as const;
type Side = (typeof sides)[number][0];

const sideOf = (key: string): Side | undefined => sides.find(([, words]) => words.test(key.toLowerCase().replace(/[ _]/g, '-')))?.[0];

/** Whether a key says the least or the most. */
export const saysLimit = (key: string): boolean => ['low', 'high'].includes(sideOf(key) ?? '');

type Entries = readonly Pick<MapEntry, 'key' | 'value'>[];

/** A number and what stands behind it. */
const split = /^([+-]?[\d./ ]*\d)\s*(.*)$/;

/**
 * One quantity that is written as several: `{ min: 0.1 mm, max: 0.5 mm }`, `[0.1 mm, 0.5 mm]` or `{ value: 8, unit: L }`.
 * @param entries keys with what stands under them
 * @param schema of what belongs there
 * @returns as it is written here (`0.1..0.5 mm`); null where it cannot be said, or may not stand there
 */
function oneOf(entries: Entries, schema: SchemaNode): string | null {
  const said = new Map<Side, string>();
  for (const { key, value } of entries) {
    const side = sideOf(key);
    if (side === undefined || said.has(side) || value.kind !== 'scalar') return null;
    said.set(side, (value.source || String(value.value)).trim());
  }
  const parts = (['low', 'high', 'value', 'by'] as const).map((side) => split.exec(said.get(side) ?? ''));
  const unit = said.get('unit') ?? parts.map((one) => one?.[2]).find((one) => one) ?? '';
  if (parts.some((one) => one?.[2] && one[2] !== unit)) return null;
  const [low, high, value, by] = parts.map((one) => one?.[1]);
  const number = value ? nominal(value, by, low ?? high) : by ? null : limit(low, high);
  return number === null ? null : reads(`${number} ${unit}`.trim(), schema);
}

/** A value with its tolerance; what it lies between besides cannot be said. */
const nominal = (value: string, by: string | undefined, side: string | undefined): string | null =>
  side !== undefined ? null : by === undefined ? value : `${value} ±${by}`;

const limit = (low: string | undefined, high: string | undefined): string | null =>
  low && high ? `${low}..${high}` : low ? `min ${low}` : high ? `max ${high}` : null;

const reads = (text: string, schema: SchemaNode): string | null => (figureOf(text, text, schema, '') instanceof Unreadable ? null : text);

/** The same of a group of keys, or of a list of the least and the most. */
export function quantityIn(node: SyntaxNode, schema: SchemaNode): string | null {
  if (node.kind === 'list') {
    const [low, high, ...others] = node.items;
    const both: Entries =
      low && high && others.length === 0
        ? [
            { key: 'min', value: low },
            { key: 'max', value: high },
          ]
        : [];
    return oneOf(both, schema);
  }
  if (node.kind !== 'map') return null;
  const [only] = node.entries;
  // What it is called says nothing of it.
  if (only && node.entries.length === 1 && sideOf(only.key) === undefined) return oneOf([{ key: 'value', value: only.value }], schema);
  return oneOf(node.entries, schema);
}

/** The same of those keys of a group that say the least or the most. */
export const limitAmong = (node: SyntaxNode, schema: SchemaNode): string | null =>
  node.kind === 'map'
    ? oneOf(
        node.entries.filter(({ key }) => saysLimit(key)),
        schema,
      )
    : null;

/** A figure as it is written here; null where the text is none. */
export function asFigure(text: string, schema: SchemaNode): string | null {
  const figure = figureOf(text, text, schema, '');
  return figure instanceof Unreadable ? (figure.as ?? null) : text;
}
