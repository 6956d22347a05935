import type { ErrorObject } from 'ajv';
import type { Finding } from '../findings/finding.js';
import { didYouMeanOf, isTypo, nearest, oneOf, slipOf } from '../findings/suggest.js';
import { once } from '../once.js';
import type { Span } from '../source/source.js';
import { limits } from '../syntax/limits.js';
import { entryOf, type ListNode, type MapEntry, type MapNode, nodeAt, plain, type ScalarNode, type SyntaxNode } from '../syntax/node.js';
import { decimalComma } from './commas.js';
import { type DocumentKind, documentKinds, documentSchema, isDocumentKind, schemaAt } from './lookup.js';
import { standsFor, valueMeantBy } from './meant.js';
import type { SchemaNode } from './node.js';
import { mistakeOf } from './mistakes.js';
import right = require('./generated/right.cjs');
import validators = require('./generated/validators.cjs');

export interface Checked {
  readonly kind: DocumentKind | null;
  readonly findings: readonly Finding[];
  /** The nodes that are wrong; the decoder passes over them. */
  readonly wrong: ReadonlySet<SyntaxNode>;
  /** Keys that nobody knows, and that can only be slips of one that is missing beside them; values that can only be slips. */
  readonly slips: readonly Slip[];
}

/** A key or a value that can only be a slip of another, with what is told of it. */
export interface Slip {
  readonly at: MapEntry | ScalarNode;
  /** What it stands in. */
  readonly holder: ListNode | MapNode;
  readonly meant: string;
  readonly finding: Finding;
}

/** The kind of a document that is as the schema of its kind has it; null where anything is wrong with it. */
export function kindOfRight(value: unknown): DocumentKind | null {
  const { kind } = Object(value) as { readonly kind?: unknown };
  return isDocumentKind(kind) && right[kind]?.(value) ? kind : null;
}

/** Checks one document against the schema of its kind and says what is wrong in the reader's words. */
export function validate(root: SyntaxNode): Checked {
  const kindNode = entryOf(root, 'kind')?.value;
  const kind = kindNode?.kind === 'scalar' ? kindNode.value : undefined;
  if (root.kind !== 'map' || kindNode === undefined || !isDocumentKind(kind))
    return { kind: null, findings: [kindProblem(root, kindNode, kind)], wrong: new Set(), slips: [] };

  const check = validators[kind];
  if (!check) throw new Error(`no validator for ${kind}`);
  if (check(plain(root))) return { kind, findings: [], wrong: new Set(), slips: [] };

  const findings: Finding[] = [];
  const all = collapse(check.errors ?? []);
  const errors = all.slice(0, limits.mistakes);
  const unknown = errors.filter((error) => error.keyword === 'additionalProperties');
  const wrong = new Set<SyntaxNode>();
  const slips: Slip[] = [];
  const commas = new Map(
    errors.flatMap((error) => {
      const comma = decimalComma(error, pathOf(error.instancePath, root), root);
      return comma ? [[error, comma] as const] : [];
    }),
  );
  // A number that a comma has cut is told once, whatever is wrong with the two that it became.
  for (const comma of commas.values()) {
    if (comma.values.every((value) => wrong.has(value))) continue;
    findings.push({ rule: 'quantity/decimal-comma', severity: 'error', message: comma.message, span: comma.span });
    for (const value of comma.values) wrong.add(value);
  }
  const cut = new Set(wrong);
  // What one thing lacks is told at once, without what another word there stands for.
  const missing = new Map<string, string[]>();
  for (const { keyword, instancePath, params } of errors)
    if (
      keyword === 'required' &&
      !unknown.some((other) => other.instancePath === instancePath && standsFor(other.params.additionalProperty, params.missingProperty))
    )
      once(missing, instancePath, () => []).push(params.missingProperty);
  for (const error of errors) {
    const path = pathOf(error.instancePath, root);
    const node = nodeAt(root, path);
    if (!node) continue;
    if (cut.has(node) || commas.has(error)) continue;
    const schema = schemaAt(kind, path) ?? {};
    const lacks = missing.get(error.instancePath) ?? [];
    if (error.keyword === 'required' && error.params.missingProperty !== lacks[0]) continue;
    const finding = mistakeOf(error, kind, path, node, root, schema, lacks);
    if (!finding) continue;
    findings.push(finding);
    const named: string | undefined = error.params.additionalProperty ?? error.params.propertyName;
    const entry = named === undefined ? undefined : entryOf(node, named);
    if (named === undefined) wrong.add(node);
    else if (entry) wrong.add(entry.value);
    const slip = slipIn(finding, node, entry, schema, nodeAt(root, path.slice(0, -1)));
    if (slip && !slips.some(({ holder, meant }) => holder === slip.holder && meant === slip.meant)) slips.push(slip);
  }
  if (errors.length === all.length) return { kind, findings, wrong, slips };
  // What is not listed is not known to be wrong: nothing of the document is used.
  return {
    kind: null,
    findings: findings.map((one, n) =>
      n < findings.length - 1 ? one : { ...one, message: `${one.message} More is wrong than is listed.` },
    ),
    wrong,
    slips: [],
  };
}

/** What is wrong, if it can only be a slip: a key of a map, or a value in what holds it, also another word for one. */
function slipIn(
  finding: Finding,
  node: SyntaxNode,
  entry: MapEntry | undefined,
  schema: SchemaNode,
  holder: SyntaxNode | undefined,
): Slip | null {
  if (finding.rule === 'schema/unknown-key' && entry && node.kind === 'map') {
    const free = Object.keys(schema.properties ?? {}).filter((key) => !node.entry(key));
    const meant = slipOf(entry.key, free);
    return meant === null ? null : { at: entry, holder: node, meant, finding };
  }
  if (finding.rule !== 'schema/unknown-value' || node.kind !== 'scalar' || !holder || holder.kind === 'scalar') return null;
  const allowed = schema.enum ?? [];
  const [only, ...others] = valueMeantBy(node.source, allowed);
  const meant = slipOf(node.source, allowed) ?? (others.length === 0 ? (only ?? null) : null);
  return meant === null ? null : { at: node, holder, meant, finding };
}

function kindProblem(root: SyntaxNode, node: SyntaxNode | undefined, kind: unknown): Finding {
  const first: Span =
    root.kind === 'map' && root.entries[0]
      ? root.entries[0].keySpan
      : { file: root.span.file, start: root.span.start, end: Math.min(root.span.end, root.span.start + 1) };
  const near = node === undefined && root.kind === 'map' ? root.entries.find(({ key }) => nearest(key, ['kind'])) : undefined;
  if (near)
    return {
      rule: 'schema/no-kind',
      severity: 'error',
      span: near.keySpan,
      message: `This document does not say what it is: \`${near.key}\` stands here and not \`kind\`. Write \`kind:\` and one of ${oneOf(documentKinds)}.`,
    };
  if (isOfOtherTool(root))
    return {
      rule: 'schema/no-kind',
      severity: 'info',
      span: node?.span ?? first,
      message: `This is no document of the library, and is passed over. ${sayIt} and nothing is told of it; if it is to be one, start it with \`kind:\`.`,
    };
  const unless = ` If it belongs to another tool, ${sayIt.charAt(0).toLowerCase()}${sayIt.slice(1)}.`;
  if (node === undefined || typeof kind !== 'string') {
    return {
      rule: 'schema/no-kind',
      severity: 'error',
      span: node?.span ?? first,
      message: `This document does not say what it is. Start it with \`kind:\` and one of ${oneOf(documentKinds)}.${unless}`,
    };
  }
  return {
    rule: 'schema/no-kind',
    severity: 'error',
    span: node.span,
    message: `\`${kind}\` is not a kind of document.${didYouMeanOf(kind, documentKinds)}${isTypo(kind, documentKinds) ? '' : unless}`,
  };
}

const sayIt = 'Write `# baywright: not a document` above it';

let ours: readonly string[] | undefined;

/** Whether a file has nothing that a document has, as the settings of other tools that lie in the same folder. */
function isOfOtherTool(root: SyntaxNode): boolean {
  if (root.kind !== 'map' || root.entries.length === 0) return false;
  if (root.entry('kind')) return root.entry('apiVersion') !== undefined;
  // Everything has a name.
  ours ??= documentKinds.flatMap((kind) => Object.keys(documentSchema(kind).properties ?? {})).filter((key) => key !== 'name');
  const known = ours;
  return root.entries.every(({ key }) => !known.includes(key) && !isTypo(key, known));
}

/** One mistake, one error: drops what only repeats another. */
function collapse(errors: readonly ErrorObject[]): ErrorObject[] {
  const typed = new Set(errors.filter((error) => error.keyword === 'type').map((error) => error.instancePath));
  return errors.filter((error) => {
    if (error.propertyName !== undefined && error.keyword !== 'propertyNames') return false;
    if (error.keyword === 'if' || error.keyword === 'allOf') return false;
    return error.keyword === 'type' || !typed.has(error.instancePath);
  });
}

function pathOf(pointer: string, root: SyntaxNode): (string | number)[] {
  const path: (string | number)[] = [];
  let node: SyntaxNode | undefined = root;
  for (const part of pointer.split('/').slice(1)) {
    const key = part.replaceAll('~1', '/').replaceAll('~0', '~');
    path.push(node?.kind === 'list' ? Number(key) : key);
    node = nodeAt(root, path);
  }
  return path;
}
