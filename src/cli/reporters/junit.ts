import type { Finding } from '../../findings/finding.js';
import { once } from '../../once.js';
import { placeOf } from '../../source/source.js';
import { type Reporter, summaryOf } from './report.js';

/** Characters that XML 1.0 has no place for. */
const forbidden = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

const escaped = (text: string): string =>
  text
    .replace(forbidden, '\ufffd')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\n', '&#10;');

/** JUnit XML as CI servers read it: a suite a file, a failing case an error or warning; notes pass with their words. */
export const junitReporter: Reporter = function* (report) {
  const { errors, warnings } = summaryOf(report);
  const byFile = new Map<string, Finding[]>();
  for (const finding of report.findings) once(byFile, finding.span.file.path, () => []).push(finding);
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="baywright" tests="${report.findings.length + 1}" failures="${errors + warnings}" errors="0">\n`;
  yield `  <testsuite name="baywright" tests="1" failures="0" errors="0">\n    <testcase classname="baywright" name="${report.files} files checked"/>\n  </testsuite>\n`;
  for (const [file, findings] of byFile) {
    const failures = findings.filter((finding) => finding.severity !== 'info').length;
    yield `  <testsuite name="${escaped(file)}" tests="${findings.length}" failures="${failures}" errors="0">\n`;
    for (const finding of findings) yield testCase(finding);
    yield '  </testsuite>\n';
  }
  yield '</testsuites>\n';
};

function testCase(finding: Finding): string {
  const place = placeOf(finding.span.file, finding.span.start);
  const name = `${finding.rule} at line ${place.line}, column ${place.column}`;
  const head = `    <testcase classname="${escaped(finding.span.file.path)}" name="${escaped(name)}"`;
  if (finding.severity === 'info') return `${head}>\n      <system-out>${escaped(finding.message)}</system-out>\n    </testcase>\n`;
  return `${head}>\n      <failure type="${finding.severity}" message="${escaped(finding.message)}"/>\n    </testcase>\n`;
}
