import type { ErrorObject } from 'ajv';
import type { Finding, Fix, Severity } from '../findings/finding.js';
import { listFix, quoteFix, renameFix } from '../findings/fixes.js';
import { didYouMean, didYouMeanOf, isTypo, nearest, oneOf, thereAre } from '../findings/suggest.js';
import type { Span } from '../source/source.js';
import { entryOf, nodeAt, type SyntaxNode } from '../syntax/node.js';
import { asFigure, limitAmong, quantityIn, saysLimit } from './as-quantity.js';
import { cutText, decimalCommaIn } from './commas.js';
import { definitions } from './generated/schemas.js';
import { asList } from '../library/scope.js';
import { onlyValueIn, slug, writeInstead } from './instead.js';
import { type DocumentKind, firstSentence, kindWords, schemaAt, sectionsOf } from './lookup.js';
import { anyValueMeantBy, meantBy, namedIn, servedBy, valueMeantBy } from './meant.js';
import type { SchemaNode } from './node.js';

const schemaLists = ' The schema lists what there is; an editor completes it.';
const anyVerb =
  ' A step is one verb, as `remove`, `fit`, `adjust` or `inspect`, and how in `says:`. The schema lists all; an editor completes them.';

/** What to write for a word that only says how something is done. */
function servedIn(word: string, keys: readonly string[]): string {
  const served = servedBy(word, keys);
  return served.length === 0 ? '' : ` Write what it is for, ${oneOf(served)}, and how in its \`says:\`.`;
}

/** Where in such a document a key belongs that stands where it does not, by this name or by the one that it has there. */
function elsewhere(kind: DocumentKind, key: string, value: SyntaxNode | undefined): string {
  const sections = sectionsOf(kind);
  // What the document itself has, or most of its sections, says nothing.
  if (sections.some(([section]) => section === key)) return '';
  const having = sections.filter(([, keys]) => keys.includes(key)).map(([section]) => section);
  if (having.length > 0) return having.length > mostSections ? '' : ` It is a key of what stands under ${oneOf(having)}.`;
  const [first, ...others] = sections.flatMap(([section, keys]) => meantBy(key, keys).map((meant) => ({ section, meant })));
  if (!first || others.length > 0) return '';
  const taken = schemaAt(kind, [first.section, 'any', first.meant]);
  const instead = value && taken && valueInstead(value, taken);
  return ` Under \`${first.section}\` it is \`${first.meant}${instead ? `: ${instead}` : ''}\`.`;
}
const mostSections = 3;

/** What to write of a value under another key: made of it where it cannot stand there as it is, else null. */
function valueInstead(value: SyntaxNode, taken: SchemaNode): string | null {
  if (value.kind !== 'scalar') return null;
  if (!typesOf(value).some((type) => asList(taken.type).includes(type))) return writeInstead(value, taken);
  const figure = taken.quantity ? asFigure(value.source, taken) : null;
  return figure === value.source ? null : figure;
}

const withFix = (finding: Finding, fix: Fix | undefined): Finding => (fix ? { ...finding, fix } : finding);

/**
 * One mistake that a validator found, in the reader's words.
 * @param path of what is wrong, from the root
 * @param node what stands there
 * @param schema of what belongs there
 * @param missing all keys that it lacks, where that is the mistake
 * @returns null where it is told otherwise
 */
export function mistakeOf(
  error: ErrorObject,
  kind: DocumentKind,
  path: (string | number)[],
  node: SyntaxNode,
  root: SyntaxNode,
  schema: SchemaNode,
  missing: readonly string[],
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
      if (name === '<<')
        return make('schema/unknown-key', 'YAML 1.2 has no key `<<` that takes over the keys of others. Write them out here.', span);
      const cut = cutText(node, name);
      if (cut === 'told') return null;
      if (cut) return withFix(make('yaml/comma-in-text', cut.message, cut.span), cut.fix);
      const free = known.filter((candidate) => !entryOf(node, candidate));
      if (node.kind === 'map' && saysLimit(name) && free.includes('limit')) {
        const limit = limitAmong(node, schemaAt(kind, [...path, 'limit']) ?? {});
        const [first] = node.entries.filter(({ key }) => saysLimit(key));
        if (limit !== null)
          return first?.key !== name
            ? null
            : make('schema/unknown-key', `\`${name}\` is not a key of ${where}. Write \`limit: ${limit}\`.`, span);
      }
      const others = meantBy(name, free);
      const sure = others.length > 0 || nearest(name, free) !== undefined ? others : namedIn(name, free);
      const meant = takingValue(sure, (key) => schemaAt(kind, [...path, key]), entryOf(node, name)?.value);
      if (meant.length > 0) {
        const write = `\`${name}\` is not a key of ${where}. Write `;
        const [one = '', ...others] = meant;
        if (others.length > 0) return make('schema/unknown-key', `${write}${oneOf(meant)}.`, span);
        const taken = schemaAt(kind, [...path, one]);
        const value = entryOf(node, name)?.value;
        const instead = value && taken && valueInstead(value, taken);
        if (instead) return make('schema/unknown-key', `${write}\`${one}: ${instead}\`.`, span);
        const what = firstSentence(taken?.description);
        return make('schema/unknown-key', `${write}\`${one}\`${what ? `: ${what.charAt(0).toLowerCase()}${what.slice(1)}` : '.'}`, span);
      }
      const isStep = where === 'a step';
      const isSlip = isTypo(name, free);
      // What is a slip of a key that belongs here is no other word.
      const other = isSlip ? '' : isStep ? servedIn(name, free) : elsewhere(kind, name, entryOf(node, name)?.value);
      const list = known.length <= mostListed ? ` ${thereAre(known, mostListed)}` : schemaLists;
      const hint = other || didYouMean(name, free) || (isStep ? anyVerb : list);
      // A verb that is written as another word may be one.
      const fix = other !== '' || (isStep && !isSlip) ? undefined : renameFix(span, name, free);
      return withFix(make('schema/unknown-key', `\`${name}\` is not a key of ${where}.${hint}`, span), fix);
    }
    case 'required': {
      return { ...make('schema/missing-key', `${capital(called)} lacks ${missingIn(kind, path, missing)}`), about: missing.join(' ') };
    }
    case 'type': {
      const comma = typeof key === 'number' ? decimalCommaIn(nodeAt(root, path.slice(0, -1)), key) : null;
      return comma ? make('quantity/decimal-comma', comma.message, comma.span) : typeProblem(make, node, schema, called);
    }
    case 'const':
    case 'enum': {
      const allowed = schema.enum ?? (schema.const ? [schema.const] : []);
      const about = firstSentence(schema.description);
      if (node.kind !== 'scalar')
        return make('schema/wrong-type', `${capital(called)} must be ${oneOf(allowed)}, but ${written(node)} stands here. ${about}`.trim());
      if (node.value === null && node.source === '') return make('schema/no-value', `${capital(called)} has no value. ${about}`.trim());
      const says = node.source || String(node.value);
      const meant = valueMeantBy(says, allowed);
      if (meant.length > 0) return make('schema/unknown-value', `\`${says}\` is not a value of ${called}. Write ${oneOf(meant)}.`);
      return withFix(
        make('schema/unknown-value', `\`${says}\` is not a value of ${called}.${didYouMeanOf(says, allowed)}`),
        renameFix(node.span, says, allowed),
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
        [`“${written(node)}” cannot be ${called}.`, meantWith(written(node), schema.pattern), schema.description].filter(Boolean).join(' '),
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

/** One missing key with what it says, or several with what each says. */
function missingIn(kind: DocumentKind, path: readonly (string | number)[], names: readonly string[]): string {
  const said = names.map((name) => [`\`${name}:\``, firstSentence(schemaAt(kind, [...path, name])?.description)] as const);
  const [[only = '', what = ''] = []] = said;
  if (said.length === 1) return `${only}.${what ? ` ${what}` : ''}`;
  const listed = said.map(([name, says]) => (says ? `${name} (${says.charAt(0).toLowerCase()}${says.slice(1).replace(/\.$/, '')})` : name));
  return `${listed.slice(0, -1).join(', ')} and ${listed.at(-1)}.`;
}

/** What was meant by a text that does not fit a pattern: a day in another order, or the same without spaces. */
function meantWith(text: string, pattern: string | undefined): string | null {
  const close = text.replace(/\s+/g, '');
  if (pattern === undefined) return null;
  const fits = new RegExp(pattern);
  const day = dayMeant(text, pattern);
  if (day !== null) return day;
  if (close !== text && fits.test(close)) return `Write \`${close}\`.`;
  const values = anyValueMeantBy(text).filter((one) => fits.test(one));
  return values.length > 0 ? `Write ${oneOf(values)}.` : null;
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
    : types.has('array') && !types.has('object')
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
  const shown = node.kind === 'scalar' ? `“${written(node)}”` : written(node);
  const instead = !types.has('string') ? writeInstead(node, schema) : schema.quantity ? quantityIn(node, schema) : onlyValueIn(node);
  const told = (...words: readonly (string | null)[]) => make('schema/wrong-type', words.filter(Boolean).join(' '));
  const write = instead && `Write \`${instead}\`.`;
  if (schema.title === 'Step') return told(`A step is a verb with its object, but ${shown} stands here.`, write);
  const finding = told(`${capital(called)} must be ${expected}, but ${shown} stands here.`, write, about);
  return withFix(finding, node.kind === 'scalar' && instead === `[${node.source}]` ? listFix(node.span) : undefined);
}

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
