import { nearest } from '../findings/suggest.js';
import { parseQuantity } from '../quantity/quantity.js';
import { stagesIn } from '../quantity/unread.js';
import { isVerb, verbNames } from '../ledger/verbs.js';
import type { SyntaxNode } from '../syntax/node.js';
import { asList } from '../library/scope.js';
import { resolve } from './lookup.js';
import { meantBy, valueMeantBy } from './meant.js';
import type { SchemaNode } from './node.js';

/**
 * What to write where a list or keys with values belong and something else stands: made of what stands there, as far as it
 * can be.
 * @param schema of what belongs there
 * @returns a piece of YAML; null where nothing can be said
 */
export function writeInstead(node: SyntaxNode, schema: SchemaNode): string | null {
  // Named one by one, where it is asked how many there are.
  if (node.kind === 'list' && schema.type === 'integer') return node.items.length > 0 ? String(node.items.length) : null;
  if (node.kind === 'list') return takesAnyName(schema) ? (counted(node.items, schema) ?? eachUnderItsName(node.items[0])) : null;
  if (node.kind !== 'scalar') return null;
  const text = (node.source || String(node.value)).trim();
  return text.length > longest ? null : (counted([node], schema) ?? madeOf(text, schema));
}

/** Names where each is to say how many: one of each. */
function counted(nodes: readonly SyntaxNode[], { additionalProperties: each }: SchemaNode): string | null {
  if (typeof each !== 'object' || each.quantity !== 'amount') return null;
  const names = nodes.map((node) => (node.kind === 'scalar' ? String(node.value) : ''));
  return names.every((name) => name !== '' && slug(name) === name) ? `{ ${names.map((name) => `${name}: 1`).join(', ')} }` : null;
}

/** The one value in a group of keys, where one value belongs; null where there are others. */
export function onlyValueIn(node: SyntaxNode): string | null {
  const [only, ...others] = node.kind === 'map' ? node.entries : [];
  return only?.value.kind === 'scalar' && others.length === 0 ? only.value.source || String(only.value.value) : null;
}

const takesAnyName = ({ properties, additionalProperties }: SchemaNode): boolean =>
  properties === undefined && typeof additionalProperties === 'object';

function madeOf(text: string, schema: SchemaNode): string | null {
  // What may be keys or a list of such is mostly the keys.
  if (schema.items && !takesAnyName(schema)) {
    const entry = resolve(schema.items);
    const stages = entry.properties?.torque && entry.properties.angle ? stagesIn(text) : null;
    if (stages !== null) return stages;
    if (entry.enum) {
      const meant = valueMeantBy(text, entry.enum)[0] ?? nearest(slug(text), entry.enum);
      return meant === undefined ? null : `[${meant}]`;
    }
    if (asList(entry.type).includes('string')) return `[${text}]`;
    const made = madeOf(text, entry);
    return made && (entry.title === 'Step' ? `- ${made}` : `[${made}]`);
  }
  if (schema.title === 'Step') return stepOf(text);
  if (takesAnyName(schema)) {
    const made = madeOf(text, resolve(schema.additionalProperties as SchemaNode));
    return made && `{ ${schema.title === 'Labour' ? 'work' : 'name-of-it'}: ${made} }`;
  }
  const figure = parseQuantity(text, 'any');
  const dimension = (figure.ok ? figure.quantity : figure.meant)?.unit.dimension;
  const value = figure.ok ? text : figure.as;
  const properties = Object.entries(schema.properties ?? {});
  const taking = (what: string) => properties.find(([, { quantity }]) => quantity === what)?.[0];
  const key = dimension === undefined ? undefined : (taking(dimension) ?? taking('any'));
  const { required = [] } = schema;
  const open = (but?: string): string[] => required.filter((name) => name !== but).map((name) => `${name}: …`);
  if (key) return `{ ${[...open(key), `${key}: ${value}`].join(', ')} }`;
  if (schema.properties?.stages && dimension === 'torque') return `{ stages: [{ torque: ${value} }] }`;
  const [only] = required;
  if (only === undefined) return null;
  const isText = (name: string): boolean => schema.properties?.[name]?.type === 'string' && !schema.properties[name]?.quantity;
  // A word for a fluid is what it must meet.
  const says = required.length === 1 && isText(only) ? only : isText('spec') ? 'spec' : undefined;
  return `{ ${[...(says ? [`${says}: ${quotedIfNeeded(text)}`] : []), ...open(says)].join(', ')} }`;
}

/** What is longer than this is hardly one thing. */
const longest = 80;

const quotedIfNeeded = (text: string): string => (/^[\w][\w ./()-]*$/.test(text) ? text : JSON.stringify(text));

/** A sentence as a step: its verb, or what is called so here, and what it names; null where it begins with none. */
function stepOf(sentence: string): string | null {
  const words = sentence
    .toLowerCase()
    .replace(/[.,;:!]|\b\d+ ?(times|x)\b/g, '')
    .trim()
    .split(/\s+/);
  for (const length of [3, 2, 1]) {
    const said = words.slice(0, length).join('-');
    const verb = isVerb(said) ? said : meantBy(said, verbNames)[0];
    const object = words.slice(length).filter((word) => !/^(the|a|an|all|both)$/.test(word));
    if (verb) return `${verb}: ${object.length > 0 ? slug(object.join('-')) : '…'}`;
  }
  return null;
}

/** Things with names, written as a list: the first of them with its name before it. */
function eachUnderItsName(first: SyntaxNode | undefined): string {
  const named = first?.kind === 'map' ? first.entries.find(({ key }) => key === 'name' || key === 'id')?.value : first;
  return `${named?.kind === 'scalar' ? slug(String(named.value)) : 'name-of-it'}: { … }`;
}

/** A name as it can be used, made of what somebody wrote. */
export const slug = (name: string): string =>
  name
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '') || 'name';
