import { checkLibrary } from '../../compile.js';
import { baselineText, newSince, readBaseline } from '../../findings/baseline.js';
import { type Finding, tidy } from '../../findings/finding.js';
import { applyFixes } from '../../findings/fixes.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import type { Format } from '../formats.js';
import { githubReporter } from '../reporters/github.js';
import { jsonReporter } from '../reporters/json.js';
import { junitReporter } from '../reporters/junit.js';
import type { Reporter } from '../reporters/report.js';
import { sarifReporter } from '../reporters/sarif.js';
import { terminalReporter } from '../reporters/terminal.js';
import { absolute, openLibrary } from '../shop.js';

const reporters: Readonly<Record<Format, Reporter>> = {
  terminal: terminalReporter,
  json: jsonReporter,
  sarif: sarifReporter,
  junit: junitReporter,
  github: githubReporter,
};

export interface CheckOptions {
  readonly format: Format;
  readonly maxWarnings?: number;
  /** A file of findings that are known and do not fail the run. */
  readonly baseline?: string;
  /** Where to write such a file from what is found now. */
  readonly writeBaseline?: string;
  /** Applies the changes that are certain, then checks again. */
  readonly fix?: boolean;
  readonly colour: boolean;
}

/** Checks the libraries that the paths lie in, and reports what concerns the paths. */
export function check(
  paths: readonly string[],
  options: CheckOptions,
  write: (text: string) => void,
  talk: (text: string) => void,
): number {
  const reporter = reporters[options.format];
  const known = options.baseline === undefined ? null : baselineIn(options.baseline);
  if (options.fix) mend(paths, talk);
  const { findings: all, files } = look(paths);
  if (options.writeBaseline !== undefined) {
    realWorld.replace(absolute(options.writeBaseline), baselineText(all));
    talk(`${all.length} findings are kept in ${options.writeBaseline}; \`--baseline ${options.writeBaseline}\` passes over them.\n`);
    return 0;
  }
  const findings = known ? newSince(all, known) : all;
  if (known && all.length > findings.length)
    talk(`${all.length - findings.length} known findings of ${options.baseline} are passed over.\n`);
  write(reporter({ findings, files }, { colour: options.colour }));
  const errors = findings.filter((finding) => finding.severity === 'error').length;
  const warnings = findings.filter((finding) => finding.severity === 'warning').length;
  return errors > 0 || (options.maxWarnings !== undefined && warnings > options.maxWarnings) ? 1 : 0;
}

function baselineIn(name: string): ReadonlySet<string> {
  const read = realWorld.read(absolute(name));
  if (!read.ok)
    throw new CannotRun(`The baseline ${name} cannot be read: ${read.why}. Make it with \`baywright check --write-baseline ${name}\`.`);
  const known = readBaseline(read.text);
  if (!known) throw new CannotRun(`${name} is no baseline. Make one with \`baywright check --write-baseline ${name}\`.`);
  return known;
}

/** Findings that concern the paths, and how many of the shop's own files were looked at. */
function look(paths: readonly string[]): { readonly findings: readonly Finding[]; readonly files: number } {
  const findings: Finding[] = [];
  let files = 0;
  const seen = new Set<string>();
  for (const path of paths.length > 0 ? paths : [undefined]) {
    const library = openLibrary(path, undefined);
    const wanted = path === undefined ? library.root : absolute(path);
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
    const all = checkLibrary(library);
    findings.push(
      ...all.filter(({ span }) => within(span.file.path) || (wanted === library.root && span.file.path.startsWith('baywright:'))),
    );
  }
  return { findings: tidy(findings), files };
}

/** Fixes may make room for others; more rounds than this are not needed by any. */
const mostRounds = 5;

/** Applies what is certain, file by file; a file that changed on disk meanwhile is left alone. */
function mend(paths: readonly string[], talk: (text: string) => void): void {
  let mended = 0;
  for (let round = 0; round < mostRounds; round++) {
    let now = 0;
    for (const path of paths.length > 0 ? paths : [undefined]) {
      const library = openLibrary(path, undefined);
      const { findings } = look(path === undefined ? [] : [path]);
      const { files, count } = applyFixes(findings.filter((finding) => !finding.span.file.path.startsWith('baywright:')));
      for (const { file, text } of files) {
        const full = `${library.root}/${file.path}`;
        const disk = realWorld.read(full);
        if (!disk.ok || disk.text.replace(/^\ufeff/, '') !== file.text) continue;
        realWorld.replace(full, disk.text.startsWith('\ufeff') ? `\ufeff${text}` : text);
      }
      now += count;
    }
    mended += now;
    if (now === 0) break;
  }
  talk(mended === 0 ? 'Nothing could be mended for certain.\n' : `${mended} mended.\n`);
}
