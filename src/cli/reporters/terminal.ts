import { Chalk, type ChalkInstance } from 'chalk';
import type { Finding, Severity } from '../../findings/finding.js';
import { lineText, placeOf, type Span } from '../../source/source.js';
import { harmless } from '../harmless.js';
import { type Reporter, summaryOf } from './report.js';

/** Findings for people: place, words, and the line with the wrong thing underlined. */
export const terminalReporter: Reporter = function* (report, { colour }) {
  yield* blocksOf(report.findings, colour);
  const chalk = inColour(colour);
  const { files, errors, warnings, infos } = summaryOf(report);
  const counted = [plural(errors, 'error'), plural(warnings, 'warning'), ...(infos > 0 ? [plural(infos, 'note')] : [])].join(', ');
  const closing =
    errors + warnings + infos === 0
      ? chalk.green(`${plural(files, 'file')} checked: clean.`)
      : `${plural(files, 'file')} checked: ${counted}.`;
  yield `${closing}\n`;
};

/** The findings alone. */
export function* blocksOf(findings: readonly Finding[], colour: boolean): Generator<string> {
  const chalk = inColour(colour);
  for (const finding of findings) yield `${block(finding, chalk)}\n`;
}

const inColour = (colour: boolean): ChalkInstance => new Chalk({ level: colour ? 1 : 0 });

const words: Record<Severity, string> = { error: 'error', warning: 'warning', info: 'note' };

const tint = (severity: Severity, chalk: ChalkInstance) =>
  severity === 'error' ? chalk.red : severity === 'warning' ? chalk.yellow : chalk.blue;

function block(finding: Finding, chalk: ChalkInstance): string {
  const place = placeOf(finding.span.file, finding.span.start);
  const paint = tint(finding.severity, chalk);
  const lines = [
    `${paint.bold(words[finding.severity])} ${chalk.bold(`${harmless(finding.span.file.path)}:${place.line}:${place.column}`)} ${chalk.dim(finding.rule)}`,
    ...frame(finding.span, paint, chalk),
    ...wrap(harmless(finding.message), lineWidth).map((line) => `  ${line}`),
    ...(finding.related ?? []).slice(0, 8).map((one) => {
      const at = placeOf(one.span.file, one.span.start);
      return chalk.dim(`  → ${harmless(one.span.file.path)}:${at.line}:${at.column} ${harmless(one.message)}`);
    }),
    '',
  ];
  return lines.join('\n');
}

/** The line with the wrong thing in it, as much of it as stands beside its number. */
function frame(span: Span, paint: ChalkInstance, chalk: ChalkInstance): string[] {
  const place = placeOf(span.file, span.start);
  const text = lineText(span.file, place.line);
  if (text.trim() === '') return [];
  const at = place.column - 1;
  const from = Math.max(0, Math.min(at - before, text.length - shownOfLine));
  const to = from + shownOfLine;
  const shown = harmless(
    `${from > 0 ? '…' : ''}${text.slice(from > 0 ? from + 1 : 0, to < text.length ? to - 1 : to)}${to < text.length ? '…' : ''}`,
  );
  const margin = String(place.line).padStart(4);
  const width = Math.max(1, Math.min(span.end - span.start, text.length - at, to - at));
  return [`${chalk.dim(`${margin} │`)} ${shown}`, `${chalk.dim('     │')} ${' '.repeat(at - from)}${paint('^'.repeat(width))}`];
}

/** As wide as the words beneath. */
const lineWidth = 100;
const shownOfLine = lineWidth - 7;
/** So much of it at most stands before the wrong thing. */
const before = 60;

function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line && line.length + word.length + 1 > width) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return line ? [...lines, line] : lines;
}

const plural = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;
