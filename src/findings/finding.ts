import { once } from '../once.js';
import { placeOf, type Span } from '../source/source.js';

export type Severity = 'error' | 'warning' | 'info';

/** A second place that belongs to a finding: the other half of a contradiction, or a gate that it endangers. */
export interface Related {
  readonly span: Span;
  readonly message: string;
  /** Nobody knows which of the two places is wrong: what uses this one must wait, too. */
  readonly orHere?: boolean;
}

/** A change to the text that mends a finding for certain: spans of one file and what stands there instead. */
export interface Fix {
  /** What it does, for the editor's menu. */
  readonly title: string;
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
}

/** What was found, where, and what to do. Every stage reports in this one form. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  /** What is wrong and what to do, in the words of the trade. */
  readonly message: string;
  readonly span: Span;
  /** What it is about, where one place may lack several things: of the same it is told once. */
  readonly about?: string;
  readonly related?: readonly Related[];
  readonly fix?: Fix;
  /** Paths of the documents in looking at which it was found, where it stands in another: a job, where it has no wrench for a torque. */
  readonly from?: readonly string[];
}

/** Whether a finding stands in one of some files, by their paths, or may as well stand there. */
export const standsIn = ({ span, related }: Finding, isOne: (path: string) => boolean): boolean =>
  isOne(span.file.path) || related?.some((one) => one.orHere && isOne(one.span.file.path)) === true;

/** The result of a stage: a value, as far as there is one, and what was found on the way. */
export interface Staged<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
}

const rank: Record<Severity, number> = { error: 0, warning: 1, info: 2 };

/** Sorts by file, place, severity and rule; what the same rule says of the same thing at the same place again is told once. */
export function tidy(findings: readonly Finding[]): Finding[] {
  const byFile = new Map<string, Finding[]>();
  for (const finding of findings) once(byFile, finding.span.file.path, () => []).push(finding);
  const compare = (a: Finding, b: Finding) =>
    a.span.start - b.span.start || rank[a.severity] - rank[b.severity] || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);
  return [...byFile.keys()].sort().flatMap((path) => toldOnce(byFile.get(path) ?? []).sort(compare));
}

/** Findings of one file, those that say the same as one: with all documents in looking at which that was found. */
function toldOnce(findings: readonly Finding[]): Finding[] {
  const starts = new Map<number, number>();
  for (const { span } of findings) starts.set(span.start, (starts.get(span.start) ?? 0) + 1);
  if (starts.size === findings.length) return [...findings];
  const kept: Finding[] = [];
  const places = new Map<string, number>();
  const from = new Map<number, Set<string>>();
  for (const finding of findings) {
    const { start, end } = finding.span;
    const place =
      starts.get(start) === 1 ? kept.length : once(places, `${finding.rule}\0${start}\0${end}\0${finding.about ?? ''}`, () => kept.length);
    const before = kept[place];
    if (!before) kept[place] = finding;
    else if (finding.from) {
      for (const path of finding.from) once(from, place, () => new Set(before.from)).add(path);
      const related = withMore(before.related, finding.related);
      if (related.length > (before.related?.length ?? 0)) kept[place] = { ...before, related };
    }
  }
  for (const [place, paths] of from) {
    const finding = kept[place];
    if (finding && paths.size > (finding.from?.length ?? 0)) kept[place] = { ...finding, from: [...paths] };
  }
  return kept;
}

/** So many second places are told of one finding. */
const mostRelated = 8;

/** The second places of a finding, with those that are new of the same finding in looking at another document. */
function withMore(before: Finding['related'] = noPlaces, more: Finding['related'] = noPlaces): readonly Related[] {
  const fresh = more.filter(({ span }) => !before.some((one) => one.span.file.path === span.file.path && one.span.start === span.start));
  return fresh.length > 0 && before.length < mostRelated ? [...before, ...fresh].slice(0, mostRelated) : before;
}

const noPlaces: readonly Related[] = [];

export const hasErrors = (findings: readonly Finding[]): boolean => findings.some((finding) => finding.severity === 'error');

/** `procedures/head-gasket.yaml:14` */
export const whereIs = (span: Span): string => `${span.file.path}:${placeOf(span.file, span.start).line}`;
