import type { Finding } from '../../findings/finding.js';

/** What a run of `check` found, for a reporter to write. */
export interface Report {
  readonly findings: readonly Finding[];
  /** Number of the shop's own files that were checked. */
  readonly files: number;
}

export interface Summary {
  readonly files: number;
  readonly errors: number;
  readonly warnings: number;
  readonly infos: number;
}

export function summaryOf({ findings, files }: Report): Summary {
  const count = (severity: Finding['severity']) => findings.filter((finding) => finding.severity === severity).length;
  return { files, errors: count('error'), warnings: count('warning'), infos: count('info') };
}

/** One reporter a format; each gives the text for standard output. */
export type Reporter = (report: Report, options: { readonly colour: boolean }) => string;
