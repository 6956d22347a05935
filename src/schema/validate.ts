import type { ErrorObject } from 'ajv';
import type { Finding, Fix, Severity } from '../findings/finding.js';
import { listFix, quoteFix, renameFix } from '../findings/fixes.js';
import { didYouMean, didYouMeanOf, isTypo, nearest, oneOf, thereAre } from '../findings/suggest.js';
import type { Span } from '../source/source.js';
import { limits } from '../syntax/limits.js';
import { entryOf, nodeAt, plain, type SyntaxNode } from '../syntax/node.js';
import { definitions } from './generated/schemas.js';
import { cutText, decimalComma, decimalCommaIn } from './commas.js';
import { type DocumentKind, documentKinds, firstSentence, isDocumentKind, kindWords, schemaAt } from './lookup.js';
import { slug, writeInstead } from './instead.js';
import { meantBy, namedIn, valueMeantBy } from './meant.js';
import right = require('./generated/right.cjs');
import validators = require('./generated/validators.cjs');
import type { SchemaNode } from './node.js';

export interface Checked {
  readonly kind: DocumentKind | null;
  readonly findings: readonly Finding[];
  /** The nodes that are wrong; the decoder passes over them. */
  readonly wrong: ReadonlySet<SyntaxNode>;
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
    return { kind: null, findings: [kindProblem(root, kindNode, kind)], wrong: new Set() };

  const check = validators[kind];
  if (!check) throw new Error(`no validator for ${kind}`);
  if (check(plain(root))) return { kind, findings: [], wrong: new Set() };

  const findings: Finding[] = [];
  const all = collapse(check.errors ?? []);
  const errors = all.slice(0, limits.mistakes);
  const unknown = errors.filter((error) => error.keyword === 'additionalProperties');
  /** Numbers of which a decimal comma cut off the rest: that is told at the rest. */
  const cut = new Set(
    unknown.flatMap(({ instancePath, params }) => {
      const node = nodeAt(root, pathOf(instancePath, root));
      return (node && decimalComma(node, params.additionalProperty)?.before) ?? [];
    }),
  );
  const wrong = new Set<SyntaxNode>(cut);
  for (const error of errors) {
    const path = pathOf(error.instancePath, root);
    const node = nodeAt(root, path);
    if (!node) continue;
    if (cut.has(node)) continue;
    const schema = schemaAt(kind, path) ?? {};
    if (
      error.keyword === 'required' &&
      unknown.some(
        (other) => other.instancePath === error.instancePath && standsFor(other.params.additionalProperty, error.params.missingProperty),
      )
    )
      continue;
    const finding = translate(error, kind, path, node, root, schema);
    if (!finding) continue;
    findings.push(finding);
    if (error.keyword !== 'additionalProperties' && error.keyword !== 'propertyNames') wrong.add(node);
    else {
      const bad = entryOf(node, error.params.additionalProperty ?? error.params.propertyName);
      if (bad) wrong.add(bad.value);
    }
  }
  if (errors.length === all.length) return { kind, findings, wrong };
  // What is not listed is not known to be wrong: nothing of the document is used.
  return {
    kind: null,
    findings: findings.map((one, n) =>
      n < findings.length - 1 ? one : { ...one, message: `${one.message} More is wrong than is listed.` },
    ),
    wrong,
  };
}

/** Whether a key that nobody knows was meant to be one that is missing: a slip, or another word for it. */
const standsFor = (written: string, missing: string): boolean =>
  nearest(written, [missing]) !== undefined || meantBy(written, [missing]).length > 0;

/** Of several keys that may be meant, those that take such a value; all, if none does. */
function takingValue(keys: readonly string[], schemaOf: (key: string) => SchemaNode | undefined, value: SyntaxNode | undefined) {
  if (keys.length < 2 || !value) return keys;
  const types = typesOf(value);
  const taking = keys.filter((key) => [schemaOf(key)?.type ?? types].flat().some((type) => types.includes(type)));
  return taking.length > 0 ? taking : keys;
}

function typesOf(value: SyntaxNode): readonly string[] {
  if (value.kind === 'list') return ['array'];
  if (value.kind === 'map') return ['object'];
  return typeof value.value === 'number' ? ['number', 'integer'] : ['string', 'boolean'];
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
  if (node === undefined || typeof kind !== 'string') {
    return {
      rule: 'schema/no-kind',
      severity: 'error',
      span: node?.span ?? first,
      message: `This document does not say what it is. Start it with \`kind:\` and one of ${oneOf(documentKinds)}.`,
    };
  }
  return {
    rule: 'schema/no-kind',
    severity: 'error',
    span: node.span,
    message: `\`${kind}\` is not a kind of document.${didYouMeanOf(kind, documentKinds)}`,
  };
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

const withFix = (finding: Finding, fix: Fix | undefined): Finding => (fix ? { ...finding, fix } : finding);

function translate(
  error: ErrorObject,
  kind: DocumentKind,
  path: (string | number)[],
  node: SyntaxNode,
  root: SyntaxNode,
  schema: SchemaNode,
): Finding | null {
  const make = (rule: string, message: string, span: Span = smallest(node, path, root), severity: Severity = 'error'): Finding => ({
    rule,
    severity,
    message,
    span,
  });
  const key = path.at(-1);
  const called =
    typeof key === 'number' ? `an entry of \`${path.at(-2) ?? kind}\`` : key === undefined ? `a ${kindWords[kind]}` : `\`${key}\``;
  switch (error.keyword) {
    case 'additionalProperties': {
      const name: string = error.params.additionalProperty;
      const known = Object.keys(schema.properties ?? {});
      const span = entryOf(node, name)?.keySpan ?? node.span;
      const where = path.includes('stages')
        ? 'a stage'
        : /^(steps|close-up|running|ground|cooled|road)$/.test(String(path.at(-2)))
          ? 'a step'
          : called;
      const comma = decimalComma(node, name);
      if (comma) return make('quantity/decimal-comma', comma.message, comma.span);
      if (name === '<<')
        return make('schema/unknown-key', 'YAML 1.2 has no key `<<` that takes over the keys of others. Write them out here.', span);
      const cut = cutText(node, name);
      if (cut === 'told') return null;
      if (cut) return withFix(make('yaml/comma-in-text', cut.message, cut.span), cut.fix);
      const free = known.filter((candidate) => !entryOf(node, candidate));
      const others = meantBy(name, free);
      const sure = others.length > 0 || nearest(name, free) !== undefined ? others : namedIn(name, free);
      const meant = takingValue(sure, (key) => schemaAt(kind, [...path, key]), entryOf(node, name)?.value);
      if (meant.length > 0) {
        const [one] = meant;
        const what = meant.length === 1 ? firstSentence(schemaAt(kind, [...path, one ?? ''])?.description) : '';
        return make(
          'schema/unknown-key',
          `\`${name}\` is not a key of ${where}. Write ${oneOf(meant)}${what ? `: ${what.charAt(0).toLowerCase()}${what.slice(1)}` : '.'}`,
          span,
        );
      }
      const hint =
        didYouMean(name, free) ||
        (known.length <= mostListed ? ` ${thereAre(known, mostListed)}` : ' The schema lists what there is; an editor completes it.');
      // A verb that is written as another word may be one.
      const fix = where === 'a step' && !isTypo(name, free) ? undefined : renameFix(span, name, free);
      return withFix(make('schema/unknown-key', `\`${name}\` is not a key of ${where}.${hint}`, span), fix);
    }
    case 'required': {
      const name: string = error.params.missingProperty;
      const what = firstSentence(schemaAt(kind, [...path, name])?.description);
      return { ...make('schema/missing-key', `${capital(called)} lacks \`${name}:\`${what ? `. ${what}` : '.'}`), about: name };
    }
    case 'type': {
      const comma = typeof key === 'number' ? decimalCommaIn(nodeAt(root, path.slice(0, -1)), key) : null;
      return comma ? make('quantity/decimal-comma', comma.message, comma.span) : typeProblem(make, node, schema, called);
    }
    case 'const':
    case 'enum': {
      const allowed = schema.enum ?? (schema.const ? [schema.const] : []);
      const written = node.kind === 'scalar' ? node.source || String(node.value) : '';
      const meant = valueMeantBy(written, allowed);
      if (meant.length > 0) return make('schema/unknown-value', `\`${written}\` is not a value of ${called}. Write ${oneOf(meant)}.`);
      return withFix(
        make('schema/unknown-value', `\`${written}\` is not a value of ${called}.${didYouMeanOf(written, allowed)}`),
        renameFix(node.span, written, allowed),
      );
    }
    case 'propertyNames': {
      const name: string = error.params.propertyName;
      return make('schema/wrong-form', noName(name), entryOf(node, name)?.keySpan);
    }
    case 'pattern':
      if (schema.quantity) return null;
      if (schema.pattern === definitions.id?.pattern) return make('schema/wrong-form', noName(written(node)));
      if (/^\d{4}-\d\d-\d\d$/.test(written(node)))
        return make(
          'schema/wrong-form',
          `“${written(node)}” is no day of the calendar from 1900 to 2199. ${schema.description ?? ''}`.trim(),
        );
      return make(
        'schema/wrong-form',
        [`“${written(node)}” cannot be ${called}.`, dayMeant(written(node), schema.pattern), schema.description].filter(Boolean).join(' '),
      );
    case 'minProperties':
      return make('schema/no-value', `${capital(called)} is empty. ${firstSentence(schema.description)}`.trim());
    case 'maxProperties':
      return make('schema/out-of-range', `${capital(called)} names more than one thing. Put each on a line of its own, with its own dash.`);
    case 'minimum':
    case 'maximum':
      return make(
        'schema/out-of-range',
        `${written(node)} cannot be ${called}: it must be ${schema.minimum ?? 'any'} to ${schema.maximum ?? 'any'}.`,
      );
    case 'minItems':
      return make(
        'schema/no-value',
        `${capital(called)} needs at least ${schema.minItems ?? 1} ${schema.minItems === 1 || schema.minItems === undefined ? 'entry' : 'entries'}.`,
      );
    case 'maxItems':
      return make('schema/out-of-range', `${capital(called)} has more than ${schema.maxItems} entries.`);
    case 'uniqueItems': {
      const again = nodeAt(node, [Math.max(error.params.i, error.params.j)]);
      const what = again?.kind === 'scalar' ? `\`${written(again)}\`` : 'the same thing';
      return make(
        'schema/out-of-range',
        `${capital(called)} names ${what} twice. Delete one of them, or write what was meant.`,
        again?.span,
      );
    }
    case 'minLength':
      return make('schema/no-value', `${capital(called)} is empty. ${firstSentence(schema.description)}`.trim());
    case 'maxLength':
      return make('schema/out-of-range', `${capital(called)} is longer than ${schema.maxLength} characters.`);
    default:
      return make('schema/wrong-form', `${capital(called)} is not as it must be. ${schema.description ?? ''}`.trim());
  }
}

/** A day that is written as other people write it, where the pattern is that of a day. */
function dayMeant(text: string, pattern: string | undefined): string | null {
  const [, a = '', b = '', year] = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$/.exec(text) ?? [];
  if (year === undefined || pattern === undefined) return null;
  const isDay = new RegExp(pattern);
  const day = (month: string, of: string) => `${year}-${month.padStart(2, '0')}-${of.padStart(2, '0')}`;
  const days = new Set([day(b, a), day(a, b)].filter((one) => isDay.test(one)));
  return days.size > 0 ? `Write ${oneOf(days)}.` : null;
}

type Make = (rule: string, message: string, span?: Span, severity?: Severity) => Finding;

function typeProblem(make: Make, node: SyntaxNode, schema: SchemaNode, called: string): Finding {
  const types = new Set(typeof schema.type === 'string' ? [schema.type] : (schema.type ?? []));
  const expected = types.has('string')
    ? 'a text'
    : types.has('array')
      ? 'a list (lines with a dash)'
      : types.has('object')
        ? 'keys with values'
        : types.has('integer')
          ? 'a whole number'
          : types.has('boolean')
            ? 'true or false'
            : 'a number';
  const about = firstSentence(schema.description);
  if (node.kind === 'scalar' && node.value === null) return make('schema/no-value', `${capital(called)} has no value. ${about}`.trim());
  if (node.kind === 'scalar' && types.has('string') && typeof node.value === 'number') {
    if (schema.quantity)
      return make(
        'quantity/no-unit',
        `${capital(called)} is ${node.source} without a unit. ${schema.examples?.[0] ? `Write it with its unit, for example ${schema.examples[0]}.` : ''}`.trim(),
      );
    const changed = String(node.value) === node.source ? '' : ` As it stands, YAML reads it as ${node.value}.`;
    return withFix(
      make('yaml/needs-quotes', `Put ${called} in quotes: "${node.source}".${changed} Codes and numbers of things are texts.`),
      quoteFix(node.span),
    );
  }
  if (node.kind === 'scalar' && types.has('string') && typeof node.value === 'boolean')
    return withFix(
      make('yaml/needs-quotes', `Put ${called} in quotes: "${node.source}". As it stands, YAML reads it as true or false.`),
      quoteFix(node.span),
    );
  const shown = node.kind === 'scalar' ? `“${written(node)}”` : node.kind === 'list' ? 'a list' : 'a group of keys';
  const instead = types.has('string') ? onlyValueIn(node) : writeInstead(node, schema);
  const told = (...words: readonly (string | null)[]) => make('schema/wrong-type', words.filter(Boolean).join(' '));
  const write = instead && `Write \`${instead}\`.`;
  if (schema.title === 'Step') return told(`A step is a verb with its object, but ${shown} stands here.`, write);
  const finding = told(`${capital(called)} must be ${expected}, but ${shown} stands here.`, write, about);
  return withFix(finding, node.kind === 'scalar' && instead === `[${node.source}]` ? listFix(node.span) : undefined);
}

/** The one value in a group of keys, where one value belongs. */
const onlyValueIn = (node: SyntaxNode): string | null => {
  const [only, ...others] = node.kind === 'map' ? node.entries : [];
  return only?.value.kind === 'scalar' && others.length === 0 ? written(only.value) : null;
};

/** Of more keys than these, as those of a step, none are listed. */
const mostListed = 40;

const written = (node: SyntaxNode): string =>
  node.kind === 'scalar' ? String(node.source || node.value).slice(0, 60) : node.kind === 'list' ? 'a list' : 'a group of keys';
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const noName = (name: string): string =>
  `The name \`${name}\` cannot be used: write lower-case letters, digits and hyphens, for example \`${slug(name)}\`.`;
/** The smallest wrong thing: the scalar, else the key above it, else the first key. */
function smallest(node: SyntaxNode, path: readonly (string | number)[], root: SyntaxNode): Span {
  if (node.kind === 'scalar' && node.span.end > node.span.start) return node.span;
  const key = path.at(-1);
  if (typeof key === 'string') {
    const entry = entryOf(nodeAt(root, path.slice(0, -1)), key);
    if (entry) return entry.keySpan;
  }
  if (node.kind === 'map' && node.entries[0]) return node.entries[0].keySpan;
  return { ...node.span, end: Math.min(node.span.end, node.span.start + 1) };
}
