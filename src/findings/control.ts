import { didYouMean } from './suggest.js';
import type { Finding, Fix, Severity } from './finding.js';
import type { SourceFile, Span } from '../source/source.js';
import { once } from '../once.js';

/** A finding that somebody allowed, with the reason that is printed with the job. */
export interface Allowed {
  readonly finding: Finding;
  readonly reason: string;
}

export interface Controlled {
  readonly findings: readonly Finding[];
  readonly allowed: readonly Allowed[];
}

/** What a shop may decide about a rule. */
export interface KnownRule {
  readonly severity: Severity;
  /** What it finds leaves a gap, so that nobody can allow it; null where it leaves none. */
  readonly leavesGap: Gap | null;
}

/** What an error may leave open: a figure of the sheet, or all of a plan. */
export type Gap = 'figure' | 'plan';

const gaps: Readonly<Record<Gap, string>> = {
  figure: 'a figure of the sheet would be missing, or a guess',
  plan: 'no job that has it could be planned',
};

/** `# baywright: allow rule — reason`, on the line before what is allowed. */
interface Allowance {
  readonly rule: string;
  readonly reason: string;
  readonly span: Span;
  /** The line that it speaks of, from 1. */
  readonly line: number;
}

/**
 * Applies what the shop decided: severities of `rules:` in shop.yaml, and allowances in the files. An error is allowed
 * only where it stands, with a reason, and never what leaves a gap on the sheet; `rules:` can make a rule stricter, or silence
 * what is no error.
 * @param lineOf the line (from 1) of a place
 * @param known all rules, by name
 */
export function control(
  findings: readonly Finding[],
  files: readonly SourceFile[],
  settings: { readonly severities: Readonly<Record<string, Severity | 'off'>>; readonly spanOf: (rule: string) => Span },
  known: ReadonlyMap<string, KnownRule>,
  lineOf: (span: Span) => number,
): Controlled {
  const own: Finding[] = [];
  const say = (rule: string, severity: Severity, message: string, span: Span) => void own.push({ rule, severity, message, span });
  for (const [rule, severity] of Object.entries(settings.severities)) {
    const usual = known.get(rule);
    if (!usual)
      say('control/unknown-rule', 'error', `There is no rule \`${rule}\`.${didYouMean(rule, known.keys())}`, settings.spanOf(rule));
    else if (usual.severity === 'error' && severity !== 'error')
      say(
        'control/error-lowered',
        'error',
        `\`${rule}\` is an error and stops paper; it cannot be lowered for a whole library. ${usual.leavesGap ? `Mend it where it stands: else ${gaps[usual.leavesGap]}.` : `Allow it where it stands, with a reason: \`# baywright: allow ${rule} — reason\`.`}`,
        settings.spanOf(rule),
      );
  }
  const severityOf = (finding: Finding): Severity | 'off' => {
    const set = settings.severities[finding.rule];
    return set === undefined || (finding.severity === 'error' && set !== 'error') ? finding.severity : set;
  };
  const graded = findings.flatMap((finding) => {
    const severity = severityOf(finding);
    return severity === 'off' ? [] : severity === finding.severity ? [finding] : [{ ...finding, severity }];
  });

  const given = files.flatMap((file) => allowancesIn(file));
  const placeKey = (rule: string, { file }: Span, line: number) => `${rule}\0${file.path}\0${line}`;
  const byPlace = new Map<string, Allowance>();
  for (const one of given) {
    const key = placeKey(one.rule, one.span, one.line);
    if (!byPlace.has(key)) byPlace.set(key, one);
  }
  const used = new Set<Allowance>();
  const allowed: Allowed[] = [];
  const kept: Finding[] = [];
  const allowanceFor = ({ rule, span }: Finding) => (byPlace.size > 0 ? byPlace.get(placeKey(rule, span, lineOf(span))) : undefined);
  for (const finding of graded) {
    const allowance = allowanceFor(finding);
    const gap = finding.severity === 'error' && known.get(finding.rule)?.leavesGap;
    if (allowance) used.add(allowance);
    if (!allowance || allowance.reason === '') kept.push(finding);
    else if (gap) kept.push({ ...finding, message: `${finding.message} This cannot be allowed: ${gaps[gap]}.` });
    else allowed.push({ finding, reason: allowance.reason });
  }
  for (const one of given) {
    if (!known.has(one.rule))
      say('control/unknown-rule', 'error', `There is no rule \`${one.rule}\` to allow.${didYouMean(one.rule, known.keys())}`, one.span);
    else if (one.reason === '')
      say(
        'control/no-reason',
        'error',
        `Say why \`${one.rule}\` is allowed here: \`# baywright: allow ${one.rule} — reason\`. The reason is printed with the job.`,
        one.span,
      );
    else if (!used.has(one))
      own.push({
        rule: 'control/unused',
        severity: 'warning',
        message: `Nothing of \`${one.rule}\` is found at the next line any more. Delete this comment.`,
        span: one.span,
        fix: deleteLineFix(one.span),
      });
  }
  return { findings: [...kept, ...own], allowed };
}

const beginning = /^[ \t]*#[ \t]*baywright:[ \t]*allow[ \t]+/;

/** `# baywright: allow RULE — REASON`, and perhaps another remark; without a dash no reason is given. Null where a line is none. */
function allowanceOn(line: string): { readonly rule: string; readonly reason: string } | null {
  const head = beginning.exec(line)?.[0];
  const rule = head && /^[\w/-]*\w/.exec(line.slice(head.length))?.[0];
  if (!head || !rule) return null;
  const rest = line.slice(head.length + rule.length).trim();
  const dash = /^[—–:-]+/.exec(rest)?.[0];
  if (dash === undefined) return { rule, reason: '' };
  const words = rest.slice(dash.length);
  const remark = words.search(/[ \t]#/);
  return { rule, reason: (remark < 0 ? words : words.slice(0, remark)).trim() };
}

const allowances = new WeakMap<SourceFile, readonly Allowance[]>();

const allowancesIn = (file: SourceFile): readonly Allowance[] => once(allowances, file, () => (mayAllow(file) ? readAllowances(file) : []));

/** Whether it is worth looking for allowances in a file. */
export const mayAllow = ({ text }: SourceFile): boolean => text.includes('baywright:');

function readAllowances(file: SourceFile): Allowance[] {
  const lines = file.text.split('\n');
  /** The line that each one speaks of: the next that is neither empty nor a comment. */
  const next: number[] = new Array(lines.length);
  for (let index = lines.length - 1, spoken = lines.length; index >= 0; index--) {
    next[index] = spoken;
    if (!/^\s*(#|$)/.test(lines[index] ?? '')) spoken = index;
  }
  const found: Allowance[] = [];
  let start = 0;
  for (const [index, line] of lines.entries()) {
    const allowed = allowanceOn(line);
    if (allowed)
      found.push({
        ...allowed,
        span: { file, start: start + line.indexOf('#'), end: start + line.trimEnd().length },
        line: (next[index] ?? lines.length) + 1,
      });
    start += line.length + 1;
  }
  return found;
}

function deleteLineFix(span: Span): Fix {
  const { text } = span.file;
  const start = text.lastIndexOf('\n', span.start - 1) + 1;
  const end = text.indexOf('\n', span.end);
  return { title: 'Delete the comment', edits: [{ span: { file: span.file, start, end: end < 0 ? text.length : end + 1 }, text: '' }] };
}
