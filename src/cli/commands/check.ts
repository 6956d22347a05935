import { checkLibrary } from '../../compile.js';
import { type Finding, tidy } from '../../findings/finding.js';
import { CannotRun } from '../../world/world.js';
import { jsonReporter } from '../reporters/json.js';
import type { Reporter } from '../reporters/report.js';
import { terminalReporter } from '../reporters/terminal.js';
import { absolute, openLibrary } from '../shop.js';

export const reporters: Readonly<Record<string, Reporter>> = { terminal: terminalReporter, json: jsonReporter };

export interface CheckOptions {
  readonly format: string;
  readonly maxWarnings?: number;
  readonly colour: boolean;
}

/** Checks the libraries that the paths lie in, and reports what concerns the paths. */
export function check(paths: readonly string[], options: CheckOptions, write: (text: string) => void): number {
  const reporter = reporters[options.format];
  if (!reporter) throw new CannotRun(`There is no format “${options.format}”. There are ${Object.keys(reporters).join(', ')}.`);
  const findings: Finding[] = [];
  let files = 0;
  const seen = new Set<string>();
  for (const path of paths.length > 0 ? paths : [undefined]) {
    const library = openLibrary(path, undefined);
    const wanted = path === undefined ? library.root : absolute(path);
    const all = checkLibrary(library);
    const within = (file: string) =>
      wanted === library.root ||
      library.root.startsWith(`${wanted}/`) ||
      `${library.root}/${file}` === wanted ||
      `${library.root}/${file}`.startsWith(`${wanted}/`);
    for (const file of library.files) {
      const full = `${library.root}/${file.file.path}`;
      if (file.shipped || !within(file.file.path) || seen.has(full)) continue;
      seen.add(full);
      files++;
    }
    findings.push(
      ...all.filter(
        (finding) => within(finding.span.file.path) || (wanted === library.root && finding.span.file.path.startsWith('baywright:')),
      ),
    );
  }
  const report = { findings: tidy(findings), files };
  write(reporter(report, { colour: options.colour }));
  const errors = report.findings.filter((finding) => finding.severity === 'error').length;
  const warnings = report.findings.filter((finding) => finding.severity === 'warning').length;
  return errors > 0 || (options.maxWarnings !== undefined && warnings > options.maxWarnings) ? 1 : 0;
}
