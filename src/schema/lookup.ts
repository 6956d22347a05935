import { definitions } from './generated/schemas.js';
import type { SchemaNode } from './node.js';

export const documentKinds = ['shop', 'vehicle', 'procedure', 'preparation', 'parts', 'job'] as const;
export type DocumentKind = (typeof documentKinds)[number];
/** What a document of a kind is called. */
export const kindWords: Readonly<Record<DocumentKind, string>> = {
  shop: 'shop profile',
  vehicle: 'vehicle profile',
  procedure: 'procedure',
  preparation: 'preparation',
  parts: 'parts catalogue',
  job: 'job order',
};
export const isDocumentKind = (value: unknown): value is DocumentKind => documentKinds.some((kind) => kind === value);

/** Follows a reference; a description beside the reference wins over the one behind it. */
export function resolve(schema: SchemaNode): SchemaNode {
  if (!schema.$ref) return schema;
  let known = resolved.get(schema);
  if (!known) {
    known = follow(schema, schema.$ref);
    resolved.set(schema, known);
  }
  return known;
}

const resolved = new Map<SchemaNode, SchemaNode>();

function follow(schema: SchemaNode, reference: string): SchemaNode {
  const target = definitions[reference.replace('#/$defs/', '')];
  if (!target) throw new Error(`no definition ${reference}`);
  return { ...resolve(target), ...(schema.description ? { description: schema.description } : {}) };
}

const references = new Map(documentKinds.map((kind) => [kind, { $ref: `#/$defs/${kind}-document` }]));

export const documentSchema = (kind: DocumentKind): SchemaNode => resolve(references.get(kind) ?? {});

/** The schema of one entry of an object or list. */
export function childSchema(schema: SchemaNode, key: string | number): SchemaNode | undefined {
  if (typeof key === 'number') return schema.items ? resolve(schema.items) : undefined;
  const own = schema.properties && Object.hasOwn(schema.properties, key) ? schema.properties[key] : undefined;
  if (own) return resolve(own);
  return typeof schema.additionalProperties === 'object' ? resolve(schema.additionalProperties) : undefined;
}

export function schemaAt(kind: DocumentKind, path: readonly (string | number)[]): SchemaNode | undefined {
  let schema: SchemaNode | undefined = documentSchema(kind);
  for (const key of path) schema = schema && childSchema(schema, key);
  return schema;
}

/**
 * The sections of a document of a kind with the keys that their entries have, as `parts` have `seals`; a list of steps is one.
 */
export const sectionsOf = (kind: DocumentKind): readonly (readonly [section: string, keys: readonly string[]])[] =>
  Object.entries(documentSchema(kind).properties ?? {}).map(([section, schema]) => {
    const { items, additionalProperties } = resolve(schema);
    const entry = items ?? (typeof additionalProperties === 'object' ? additionalProperties : undefined);
    return [section, Object.keys(entry ? (resolve(entry).properties ?? {}) : {})] as const;
  });

/** First sentence of a description. */
export const firstSentence = (text: string | undefined): string => (text ? (/^.*?[.!?](?=\s|$)/s.exec(text)?.[0] ?? text) : '');
