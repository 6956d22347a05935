import { baselineText, newSince, readBaseline } from '../../findings/baseline.js';
import { type Finding, tidy } from '../../findings/finding.js';
import { applyFixes } from '../../findings/fixes.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import type { Format } from '../formats.js';
import { keep, listingOf, type Remembered, recall } from '../kept.js';
import { githubReporter } from '../reporters/github.js';
import { jsonReporter } from '../reporters/json.js';
import { junitReporter } from '../reporters/junit.js';
import type { Reporter } from '../reporters/report.js';
import { terminalReporter } from '../reporters/terminal.js';
import { absolute, rootOf } from '../root.js';

/** The rules are large, and SARIF tells their words: it is loaded when it is asked for. */
const reporters: Readonly<Record<Exclude<Format, 'sarif'>, Reporter>> = {
  terminal: terminalReporter,
  json: jsonReporter,
  junit: junitReporter,
  github: githubReporter,
};

const reporterFor = async (format: Format): Promise<Reporter> =>
  format === 'sarif' ? (await import('../commands.js')).sarifReporter : reporters[format];

export interface CheckOptions {
  readonly format: Format;
  readonly maxWarnings?: number;
  /** A file of findings that are known and do not fail the run. */
  readonly baseline?: string;
  /** Where to write such a file from what is found now. */
  readonly writeBaseline?: string;
  /** Applies the changes that are certain, then checks again. */
  readonly fix?: boolean;
  /** Look at everything anew, and keep nothing. */
  readonly cache?: boolean;
  readonly colour: boolean;
}

/** Checks the libraries that the paths lie in, and reports what concerns the paths. */
export async function check(
  paths: readonly string[],
  options: CheckOptions,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const reporter = await reporterFor(options.format);
  const known = options.baseline === undefined ? null : baselineIn(options.baseline);
  const cached = options.cache !== false;
  if (options.fix) await mend(paths, talk);
  const { findings: all, files } = await look(paths, cached);
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

/** The library at a folder, as it was found the last time if nothing has changed, or else looked at anew. */
async function lookAt(root: string, cached: boolean): Promise<Remembered> {
  const listing = listingOf(root);
  const known = cached ? recall(root, listing) : null;
  if (known) return known;
  const { checkFresh } = await import('../commands.js');
  const fresh = checkFresh(root);
  if (cached) keep(root, listing, fresh);
  return { files: fresh.files.map((file) => file.path), findings: fresh.findings };
}

/** Findings that concern the paths, and how many of the shop's own files were looked at. Each library is looked at once. */
async function look(paths: readonly string[], cached: boolean): Promise<{ readonly findings: readonly Finding[]; readonly files: number }> {
  const wanted = new Map<string, string[]>();
  for (const path of paths.length > 0 ? paths : [undefined]) {
    const root = rootOf(path);
    wanted.set(root, [...(wanted.get(root) ?? []), path === undefined ? root : absolute(path)]);
  }
  const findings: Finding[] = [];
  const seen = new Set<string>();
  for (const [root, places] of wanted) {
    const { files, findings: all } = await lookAt(root, cached);
    const whole = places.some((place) => place === root || root.startsWith(`${place}/`));
    const within = (file: string) =>
      whole || places.some((place) => `${root}/${file}` === place || `${root}/${file}`.startsWith(`${place}/`));
    for (const file of files) if (within(file)) seen.add(`${root}/${file}`);
    for (const finding of all) {
      const { path } = finding.span.file;
      if (path.startsWith('baywright:') ? places.includes(root) : within(path)) findings.push(finding);
    }
  }
  return { findings: tidy(findings), files: seen.size };
}

/** Fixes may make room for others; more rounds than this are not needed by any. */
const mostRounds = 5;

/** Applies what is certain, file by file; a file that changed on disk meanwhile is left alone. */
async function mend(paths: readonly string[], talk: (text: string) => void): Promise<void> {
  let mended = 0;
  for (let round = 0; round < mostRounds; round++) {
    let now = 0;
    for (const path of paths.length > 0 ? paths : [undefined]) {
      const root = rootOf(path);
      const { findings } = await look(path === undefined ? [] : [path], false);
      const { files, count } = applyFixes(findings.filter((finding) => !finding.span.file.path.startsWith('baywright:')));
      for (const { file, text } of files) {
        const full = `${root}/${file.path}`;
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
