import type { Finding } from '../../findings/finding.js';
import { fingerprinter } from '../../findings/fingerprint.js';
import { placeOf, type Span } from '../../source/source.js';
import { jsonWith, mapped, type Reporter, summaryOf } from './report.js';

const placed = (span: Span) => {
  const start = placeOf(span.file, span.start);
  const end = placeOf(span.file, Math.max(span.end, span.start));
  return { file: span.file.path, line: start.line, column: start.column, endLine: end.line, endColumn: end.column };
};

/** The documented form of findings, version 1: see “The findings as JSON” in README.md. Lines and columns count from 1; the end is exclusive. */
export const jsonReporter: Reporter = (report) => {
  const print = fingerprinter();
  const written = (finding: Finding) => ({
    rule: finding.rule,
    severity: finding.severity,
    message: finding.message,
    ...placed(finding.span),
    fingerprint: print(finding),
    ...(finding.related && finding.related.length > 0
      ? { related: finding.related.map((one) => ({ message: one.message, ...placed(one.span) })) }
      : {}),
  });
  return jsonWith((findings) => ({ version: 1, findings, summary: summaryOf(report) }), mapped(report.findings, written));
};
