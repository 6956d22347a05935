import type { Severity } from '../../findings/finding.js';
import { placeOf } from '../../source/source.js';
import { harmless } from '../harmless.js';
import type { Reporter } from './report.js';

const commands: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'notice' };

const value = (text: string): string => harmless(text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A'));
const property = (text: string): string => value(text).replaceAll(':', '%3A').replaceAll(',', '%2C');

/** Workflow commands that a CI server shows as annotations beside the lines. */
export const githubReporter: Reporter = function* ({ findings }) {
  for (const finding of findings) {
    const start = placeOf(finding.span.file, finding.span.start);
    const end = placeOf(finding.span.file, Math.max(finding.span.end, finding.span.start));
    const columns = start.line === end.line ? `,col=${start.column},endColumn=${end.column}` : '';
    yield `::${commands[finding.severity]} file=${property(finding.span.file.path)},line=${start.line},endLine=${end.line}${columns},title=${property(finding.rule)}::${value(finding.message)}\n`;
  }
};
