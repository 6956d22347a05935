import { baselineText, newSince, readBaseline } from '../../findings/baseline.js';
import { type Finding, standsIn, tidy } from '../../findings/finding.js';
import { applyFixes } from '../../findings/fixes.js';
import { parentOf, shippedAs } from '../../library/root.js';
import { once } from '../../once.js';
import { type SourceFile, withoutMark } from '../../source/source.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import { inFileNamed } from '../asked-file.js';
import { boundedJson } from '../bounded-json.js';
import type { Format } from '../formats.js';
import { listingOf, type Remembered, recall } from '../kept.js';
import { githubReporter } from '../reporters/github.js';
import { jsonReporter } from '../reporters/json.js';
import { junitReporter } from '../reporters/junit.js';
import { hand, type Reporter } from '../reporters/report.js';
import { terminalReporter } from '../reporters/terminal.js';
import { absolute, type Root, rootOf } from '../root.js';

/** The rules are large, and SARIF tells their words: it is loaded when it is asked for. */
const reporters: Readonly<Record<Exclude<Format, 'sarif'>, Reporter>> = {
  terminal: terminalReporter,
  json: jsonReporter,
  junit: junitReporter,
  github: githubReporter,
};

const reporterFor = async (format: Format): Promise<Reporter> =>
  format === 'sarif' ? (await import('../fresh.js')).sarifReporter : reporters[format];

export interface CheckOptions {
  readonly format: Format;
  readonly maxWarnings?: number;
  /** A file of findings that are known and do not fail the run. */
  readonly baseline?: string;
  /** Where to write such a file from what is found now. */
  readonly writeBaseline?: string;
  /** Applies the changes that are certain, then checks again. */
  readonly fix?: boolean;
  /** Check one share of several, such as 2/5, and print it for `merge`. */
  readonly shard?: string;
  /** Look again after every change, until the user ends it. */
  readonly watch?: boolean;
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
  if (options.shard !== undefined) return lookAtShare(paths, options.shard, write, talk);
  if (options.watch) {
    if (options.fix || options.writeBaseline !== undefined || options.baseline !== undefined)
      throw new CannotRun('`--watch` only looks. Leave out `--fix`, `--baseline` and `--write-baseline`.');
    return lookOn(paths, reporter, options.colour, write, talk);
  }
  const known = options.baseline === undefined ? null : baselineIn(options.baseline);
  const cached = options.cache !== false;
  if (options.fix) await mend(paths, cached, talk);
  const { findings: all, files } = await look(paths, cached);
  if (options.writeBaseline !== undefined) {
    const place = absolute(options.writeBaseline);
    const before = realWorld.kindOf(place) === 'nothing' ? null : realWorld.readLarge(place);
    if (before && !(before.ok && readBaseline(boundedJson(before.text))))
      throw new CannotRun(
        `${options.writeBaseline} is there already and ${before.ok ? 'is no baseline' : `cannot be read: ${before.why}`}. It stays as it is; choose another name.`,
      );
    realWorld.replace(place, baselineText(all));
    talk(`${all.length} findings are kept in ${options.writeBaseline}; \`--baseline ${options.writeBaseline}\` passes over them.\n`);
    return 0;
  }
  const findings = known ? newSince(all, known) : all;
  if (known && all.length > findings.length)
    talk(`${all.length - findings.length} known findings of ${options.baseline} are passed over.\n`);
  return told(findings, files, options, reporter, write);
}

/** Writes a report; its status is what `check` ends with. */
function told(
  findings: readonly Finding[],
  files: number,
  options: { readonly maxWarnings?: number; readonly colour: boolean },
  reporter: Reporter,
  write: (text: string) => void,
): number {
  hand(reporter({ findings, files }, { colour: options.colour }), write);
  const errors = findings.filter((finding) => finding.severity === 'error').length;
  const warnings = findings.filter((finding) => finding.severity === 'warning').length;
  return errors > 0 || (options.maxWarnings !== undefined && warnings > options.maxWarnings) ? 1 : 0;
}

/** The share of one machine, printed for `merge`, which judges it. */
async function lookAtShare(
  paths: readonly string[],
  shard: string,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const { checkShare, shareOf } = await import('../fresh.js');
  const share = shareOf(shard);
  const [library, ...more] = librariesAt(paths, '`--shard`');
  if (!library || more.length > 0) throw new CannotRun('`--shard` checks a share of one library. Name one.');
  const report = checkShare(library.root, share);
  write(`${JSON.stringify(report)}\n`);
  talk(`Found in share ${shard}: ${report.findings.length}; \`baywright merge\` joins the shares and judges them.\n`);
  return 0;
}

/** Joins shares that several machines printed. */
export async function mergeShares(
  names: readonly string[],
  options: { readonly format: Format; readonly maxWarnings?: number; readonly colour: boolean },
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const reporter = await reporterFor(options.format);
  const { merge } = await import('../commands.js');
  return merge(names, options, async (findings, files) => told(findings, files, options, reporter, write), write, talk);
}

const baselineIn = (name: string): ReadonlySet<string> =>
  inFileNamed('baseline', name, readBaseline, `Make one with \`baywright check --write-baseline ${name}\`.`);

/** The library at a folder, as it was found the last time if nothing has changed, or else looked at anew. */
async function lookAt(root: Root, cached: boolean): Promise<Remembered> {
  if (!cached) return (await import('../fresh.js')).checkFresh(root);
  const listing = listingOf(root);
  return recall(root.folder, listing) ?? (await import('../fresh.js')).checkChanged(root.folder, listing);
}

interface Wanted {
  readonly root: Root;
  readonly places: string[];
}

/** The paths by the library, or the folder, that they lie in. */
function byLibrary(paths: readonly string[]): Wanted[] {
  const wanted = new Map<string, Wanted>();
  for (const path of paths.length > 0 ? paths : [undefined]) {
    const root = rootOf(path);
    once(wanted, `${root.folder} ${root.alone}`, () => ({ root, places: [] })).places.push(
      path === undefined ? root.folder : absolute(path),
    );
  }
  return [...wanted.values()];
}

/** A library, by its folder, and the paths in it that are asked about. */
interface LibraryPlaces {
  readonly root: string;
  readonly places: readonly string[];
}

/** The same where each must be a library. */
function librariesAt(paths: readonly string[], what: string): LibraryPlaces[] {
  return byLibrary(paths).map(({ root, places }) => {
    if (root.alone) throw new CannotRun(`${what} looks at a library, and ${places[0]} lies in none. Name one.`);
    return { root: root.folder, places };
  });
}

/** Of some places those that a path lies in: itself, and folders above it. */
function placesOf(path: string, places: ReadonlySet<string>): string[] {
  const found: string[] = [];
  for (let at = path; ; at = parentOf(at)) {
    if (places.has(at)) found.push(at);
    if (at === parentOf(at)) return found;
  }
}

/** What of a library concerns some paths: what stands there, or was found in looking at it; and those paths in which there is no file of it. */
function concerning(
  root: string,
  places: readonly string[],
  { files, findings }: Remembered,
): Remembered & { readonly without: readonly string[] } {
  const asked = new Set(places);
  const over = new Set(placesOf(root, asked));
  const within = (file: string) => over.size > 0 || placesOf(`${root}/${file}`, asked).length > 0;
  const concerned = over.size > 0 ? files : files.filter(within);
  const holding = new Set(files.length > 0 ? over : []);
  if (holding.size < asked.size) for (const file of concerned) for (const place of placesOf(`${root}/${file}`, asked)) holding.add(place);
  const stands = (path: string) => (path.startsWith(shippedAs) ? asked.has(root) : within(path));
  return {
    files: concerned,
    findings: findings.filter((one) => standsIn(one, stands) || one.from?.some(stands)),
    without: places.filter((place) => !holding.has(place)),
  };
}

/** Findings that concern the paths, and how many of the shop's own files were looked at. Each library is looked at once. */
async function look(paths: readonly string[], cached: boolean): Promise<{ readonly findings: readonly Finding[]; readonly files: number }> {
  const findings: Finding[] = [];
  let files = 0;
  for (const { root, places } of byLibrary(paths)) {
    const all = await lookAt(root, cached);
    const found = concerning(root.folder, places, all);
    const [empty] = found.without;
    if (empty !== undefined)
      throw new CannotRun(
        `There is no document to check in ${empty}. Their names end in .yaml or .yml; what lies in hidden folders and in \`out/\` is passed over.`,
      );
    files += found.files.length;
    for (const one of found.findings) findings.push(one);
  }
  return { findings: tidy(findings), files };
}

/** Reports now and after every change, until the user ends it. */
async function lookOn(
  paths: readonly string[],
  reporter: Reporter,
  colour: boolean,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const { watchLibrary } = await import('../commands.js');
  const end = new AbortController();
  process.once('SIGINT', () => end.abort());
  const watch = ({ root, places }: LibraryPlaces) =>
    watchLibrary(root, {
      show(all) {
        const { files, findings } = concerning(root, places, all);
        hand(reporter({ findings, files: files.length }, { colour }), write);
      },
      talk,
      until: end.signal,
    });
  try {
    await Promise.all(librariesAt(paths, '`--watch`').map(watch));
  } finally {
    end.abort();
  }
  return 0;
}

/** Fixes may make room for others, and of very many mistakes the first are told; more rounds than this are not needed by any. */
const mostRounds = 20;

/** Applies what is certain, file by file; a file that changed on disk meanwhile is left alone. */
async function mend(paths: readonly string[], cached: boolean, talk: (text: string) => void): Promise<void> {
  let mended = 0;
  for (let round = 0; round < mostRounds; round++) {
    let now = 0;
    for (const { root, places } of byLibrary(paths)) {
      const { findings } = await look(places, cached);
      const named = new Set(places);
      const isNamed = ({ path }: SourceFile) => !path.startsWith(shippedAs) && placesOf(`${root.folder}/${path}`, named).length > 0;
      const { files, count } = applyFixes(findings.filter(({ span }) => isNamed(span.file)));
      for (const { file, text } of files) {
        const full = `${root.folder}/${file.path}`;
        const disk = realWorld.read(full, root.folder);
        if (!disk.ok) talk(`${file.path} is left as it is: ${disk.why}.\n`);
        if (!disk.ok || withoutMark(disk.text) !== file.text) continue;
        realWorld.replace(full, disk.text.startsWith('\ufeff') ? `\ufeff${text}` : text);
      }
      now += count;
    }
    mended += now;
    if (now === 0) break;
  }
  talk(mended === 0 ? 'Nothing could be mended for certain.\n' : `${mended} mended.\n`);
}
