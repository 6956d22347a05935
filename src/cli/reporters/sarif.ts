import { fingerprinter } from '../../findings/fingerprint.js';
import type { Finding, Severity } from '../../findings/finding.js';
import { allRules } from '../../rules/index.js';
import { placeOf, type Span } from '../../source/source.js';
import { jsonWith, mapped, type Reporter } from './report.js';

const levels: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'note' };

const location = (span: Span) => {
  const start = placeOf(span.file, span.start);
  const end = placeOf(span.file, Math.max(span.end, span.start));
  return {
    physicalLocation: {
      artifactLocation: { uri: encodeURI(span.file.path) },
      region: { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column },
    },
  };
};

/** SARIF 2.1.0 (OASIS): one run, the rules that found something, columns in UTF-16 units. */
export const sarifReporter: Reporter = ({ findings }) => {
  const print = fingerprinter();
  const found = [...new Set(findings.map((finding) => finding.rule))].sort();
  const rules = found.map((name) => {
    const rule = allRules.find((one) => one.name === name);
    return {
      id: name,
      ...(rule
        ? {
            shortDescription: { text: rule.finds },
            fullDescription: { text: rule.why },
            help: { text: rule.mend },
            defaultConfiguration: { level: levels[rule.severity] },
          }
        : {}),
    };
  });
  const numbers = new Map(found.map((name, n) => [name, n]));
  const written = (finding: Finding) => ({
    ruleId: finding.rule,
    ruleIndex: numbers.get(finding.rule),
    level: levels[finding.severity],
    message: { text: finding.message },
    locations: [location(finding.span)],
    ...(finding.related && finding.related.length > 0
      ? { relatedLocations: finding.related.map((one, id) => ({ id, ...location(one.span), message: { text: one.message } })) }
      : {}),
    partialFingerprints: { 'baywright/v1': print(finding) },
  });
  const log = (results: readonly unknown[]) => ({
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [{ tool: { driver: { name: 'baywright', rules } }, columnKind: 'utf16CodeUnits', results }],
  });
  return jsonWith(log, mapped(findings, written));
};
