import crypto from 'node:crypto';
import { isStored, type StoredFinding, stored } from '../findings/stored.js';
import type { Finding } from '../findings/finding.js';
import type { Library } from '../library/library.js';
import type { Share } from '../rules/checker.js';
import { CannotRun } from '../world/world.js';

/** What one machine of several has found or made, as `--shard` prints it and `baywright merge` reads it. */
export type ShareReport = CheckReport | BuildReport;

interface Common {
  readonly format: 'baywright-share/1';
  readonly share: Share;
  /** Digest over the names and texts of all files of the library: shares of another state of it do not fit. */
  readonly library: string;
}

export interface CheckReport extends Common {
  readonly kind: 'check';
  /** Number of the shop's own files. */
  readonly files: number;
  /** Before the shop's own decisions; `merge` applies those. */
  readonly findings: readonly StoredFinding[];
}

export interface BuildReport extends Common {
  readonly kind: 'build';
  /** What stops jobs, each once. */
  readonly errors: readonly StoredFinding[];
  readonly jobs: readonly {
    readonly id: string;
    /** What was written; none where errors stopped the paper. */
    readonly files: readonly string[];
    /** What stops this one, by its place in the list of all. */
    readonly errors: readonly number[];
    /** Why it could not be drawn. */
    readonly refused?: string;
  }[];
}

const isShare = (index: unknown, of: unknown): boolean =>
  Number.isInteger(index) && Number.isInteger(of) && Number(index) >= 1 && Number(index) <= Number(of) && Number(of) <= 9999;

/** `2/5` as a share. */
export function shareOf(text: string): Share {
  const match = /^(\d{1,4})\/(\d{1,4})$/.exec(text);
  const index = Number(match?.[1]);
  const of = Number(match?.[2]);
  if (!isShare(index, of)) throw new CannotRun(`--shard takes a share such as 2/5 (the second of five), and not “${text}”.`);
  return { index, of };
}

export function digestOfLibrary(library: Library): string {
  const hash = crypto.createHash('sha256');
  for (const { file } of library.files) hash.update(`${file.path}\0${file.text.length}\0${file.text}`);
  return hash.digest('hex');
}

export const checkReport = (library: Library, share: Share, findings: readonly Finding[]): CheckReport => ({
  format: 'baywright-share/1',
  kind: 'check',
  share,
  library: digestOfLibrary(library),
  files: library.files.filter((file) => !file.shipped).length,
  findings: findings.map(stored),
});

const isAll = (value: unknown, one: (value: unknown) => boolean): boolean => Array.isArray(value) && value.every(one);

const isJob = (value: unknown, errorsOfAll: number): boolean => {
  const { id, files, errors, refused = '' } = (value ?? {}) as Partial<BuildReport['jobs'][number]>;
  const isPlace = (n: unknown): boolean => Number.isInteger(n) && Number(n) >= 0 && Number(n) < errorsOfAll;
  return (
    typeof id === 'string' && typeof refused === 'string' && isAll(files, (file) => typeof file === 'string') && isAll(errors, isPlace)
  );
};

const isBuild = ({ errors, jobs }: Partial<BuildReport>): boolean =>
  isAll(errors, isStored) && isAll(jobs, (one) => isJob(one, errors?.length ?? 0));

/** A report that `--shard` printed, a value from a JSON file; null where it is none. */
export function readShare(value: unknown): ShareReport | null {
  const report = (value ?? {}) as Partial<ShareReport>;
  const good =
    report.format === 'baywright-share/1' &&
    (report.kind === 'check'
      ? Number.isInteger(report.files) && isAll(report.findings, isStored)
      : report.kind === 'build' && isBuild(report)) &&
    typeof report.library === 'string' &&
    isShare(report.share?.index, report.share?.of);
  return good ? (report as ShareReport) : null;
}
