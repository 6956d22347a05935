import type { Finding } from './finding.js';
import { fingerprinter } from './fingerprint.js';

/** Findings of the past, by fingerprint; they do not fail a run. */
export const baselineText = (findings: readonly Finding[]): string => {
  const print = fingerprinter();
  return `${JSON.stringify(
    {
      version: 1,
      findings: findings.map((finding) => ({ fingerprint: print(finding), rule: finding.rule, file: finding.span.file.path })),
    },
    null,
    2,
  )}\n`;
};

/** The fingerprints in a baseline, a value from a JSON file; null where it is none. */
export function readBaseline(value: unknown): ReadonlySet<string> | null {
  if (typeof value !== 'object' || value === null || !('findings' in value) || !Array.isArray(value.findings)) return null;
  return new Set(
    value.findings.flatMap((one: unknown) =>
      typeof one === 'object' && one !== null && 'fingerprint' in one && typeof one.fingerprint === 'string' ? [one.fingerprint] : [],
    ),
  );
}

/** What is new since the baseline. */
export const newSince = (findings: readonly Finding[], known: ReadonlySet<string>): Finding[] => {
  const print = fingerprinter();
  return findings.filter((finding) => !known.has(print(finding)));
};
