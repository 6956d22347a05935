import type { SourceFile, Span } from '../source/source.js';
import type { Finding, Fix, Related, Severity } from './finding.js';

/** A span as file, start and end. */
export type StoredSpan = readonly [file: string, start: number, end: number];

/** A finding without the texts of its files, to be kept or sent. */
export interface StoredFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly span: StoredSpan;
  readonly about?: string;
  readonly related?: readonly { readonly span: StoredSpan; readonly message: string; readonly orHere?: boolean }[];
  readonly fix?: { readonly title: string; readonly edits: readonly { readonly span: StoredSpan; readonly text: string }[] };
  readonly from?: readonly string[];
}

const spanTo = ({ file, start, end }: Span): StoredSpan => [file.path, start, end];

export const stored = ({ rule, severity, message, span, about, related, fix, from }: Finding): StoredFinding => ({
  rule,
  severity,
  message,
  span: spanTo(span),
  ...(about === undefined ? {} : { about }),
  ...(related ? { related: related.map((one) => ({ ...one, span: spanTo(one.span) })) } : {}),
  ...(fix ? { fix: { title: fix.title, edits: fix.edits.map((edit) => ({ span: spanTo(edit.span), text: edit.text })) } } : {}),
  ...(from ? { from } : {}),
});

/** @param fileOf the file of a name, with its text as it was when the finding was stored */
export function revived({ span, related, fix, ...rest }: StoredFinding, fileOf: (name: string) => SourceFile): Finding {
  const spanFrom = ([name, start, end]: StoredSpan): Span => ({ file: fileOf(name), start, end });
  const also = related?.map((one): Related => ({ ...one, span: spanFrom(one.span) }));
  const mends: Fix | undefined = fix && {
    title: fix.title,
    edits: fix.edits.map((edit) => ({ span: spanFrom(edit.span), text: edit.text })),
  };
  return { ...rest, span: spanFrom(span), ...(also ? { related: also } : {}), ...(mends ? { fix: mends } : {}) };
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isPlace = (value: unknown): value is number => Number.isSafeInteger(value) && Number(value) >= 0;
const isSpan = (value: unknown): value is StoredSpan =>
  Array.isArray(value) && value.length === 3 && typeof value[0] === 'string' && isPlace(value[1]) && isPlace(value[2]);
const isListOf = (value: unknown, one: (value: unknown) => boolean): boolean => Array.isArray(value) && value.every(one);

const isRelated = (value: unknown): boolean =>
  isObject(value) &&
  isSpan(value.span) &&
  typeof value.message === 'string' &&
  (value.orHere === undefined || typeof value.orHere === 'boolean');

/** Whether a value that came from a file is a stored finding. */
export const isStored = (value: unknown): value is StoredFinding =>
  isObject(value) &&
  typeof value.rule === 'string' &&
  (value.severity === 'error' || value.severity === 'warning' || value.severity === 'info') &&
  typeof value.message === 'string' &&
  isSpan(value.span) &&
  (value.about === undefined || typeof value.about === 'string') &&
  (value.related === undefined || isListOf(value.related, isRelated)) &&
  (value.from === undefined || isListOf(value.from, (one) => typeof one === 'string')) &&
  (value.fix === undefined ||
    (isObject(value.fix) &&
      typeof value.fix.title === 'string' &&
      isListOf(value.fix.edits, (one) => isObject(one) && isSpan(one.span) && typeof one.text === 'string')));
