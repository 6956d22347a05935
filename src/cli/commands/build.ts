import path from 'node:path';
import { compileForPaper } from '../../compile.js';
import type { Finding } from '../../findings/finding.js';
import { oneOf } from '../../findings/suggest.js';
import type { PaperFormat } from '../../emit/outputs.js';
import { requireShop } from '../../library/library.js';
import type { CompiledJob } from '../../schema/generated/compiled-job.js';
import { forward } from '../../world/paths.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import { stored } from '../../findings/stored.js';
import { hasPlace } from '../../rules/checker.js';
import { jobsNamed } from '../jobs.js';
import { goesFrom, papersNamed } from '../papers.js';
import { type BuildReport, digestOfLibrary, shareOf } from '../share.js';
import type { JobRecord } from '../../layout/recorded.js';
import { wordsOf } from '../../words/words.js';
import { terminalReporter } from '../reporters/terminal.js';
import { type Ordered, printed } from '../printing.js';
import { absolute } from '../root.js';
import { checkForJobs, openLibrary } from '../shop.js';

export interface BuildOptions {
  readonly format: PaperFormat;
  /** Papers by name, where not all are wanted. */
  readonly paper?: readonly string[];
  readonly out?: string;
  readonly draft: boolean;
  /** With a page of workings at the end of the bay sheet. */
  readonly workings: boolean;
  /** Step after which work stops, by number or id: with its hand-over tag. */
  readonly after?: string;
  /** A record saved on a screen, to be printed as a filled sheet. */
  readonly record?: string;
  /** A share of the jobs, such as 2/5, with a report for `merge`. */
  readonly shard?: string;
  readonly colour: boolean;
}

/** Compiles jobs into paper. A job with errors is not printed, and its last good paper stays where it is. */
export async function build(
  names: readonly string[],
  options: BuildOptions,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const papers = options.paper && papersNamed(options.paper);
  if (options.workings && papers && !papers.includes('bay-sheet'))
    throw new CannotRun('The workings stand on the bay sheet. Ask for it too: `--paper bay-sheet --workings`.');
  const firstPath = names.find((name) => realWorld.kindOf(absolute(name)) === 'file' || realWorld.kindOf(absolute(name)) === 'folder');
  const opened = openLibrary(firstPath);
  const { library } = opened;
  requireShop(library);
  const share = options.shard === undefined ? null : shareOf(options.shard);
  const named = jobsNamed(library, names);
  const jobs = share ? named.filter((_, n) => hasPlace(share, n, named.length)) : named;
  const checkedFor = checkForJobs(opened, jobs);
  const out = absolute(options.out ?? 'out');
  realWorld.tidy(out);
  let status = 0;
  const reports = new Map<string, BuildReport['jobs'][number]>();
  /** Compiled one by one, as they are printed; what has errors is told instead. */
  function* compiled(): Generator<Ordered> {
    for (const job of jobs) {
      const checked = checkedFor(job);
      const { value, findings } = compileForPaper(library, job, checked, {
        draft: options.draft,
        drawn: options.format !== 'html',
      });
      if (value) {
        opened.mustBeAsRead(checked.used);
        const record = options.record === undefined ? {} : { record: recordFor(value, options.record, jobs.length) };
        const { format, workings } = options;
        const after = stepAfter(value, options.after);
        yield { job: value, options: { format, workings, after, ...record, ...(papers && { papers }) } };
        continue;
      }
      status = 1;
      const errors = findings.filter((finding) => finding.severity === 'error');
      reports.set(job.id, { id: job.id, files: [], errors: errors.map(stored) });
      if (share) continue;
      const files = library.files.filter((file) => !file.shipped).length;
      talk(terminalReporter({ findings: errors, files }, { colour: options.colour }));
      talk(`${job.id} is not printed: ${whyNot(findings, options.draft)}\n\n`);
    }
  }
  for await (const { job, outputs } of printed(compiled(), jobs.length)) {
    const folder = forward(path.join(out, job.id));
    realWorld.writeFolder(folder, outputs, goesFrom(folder, job, papers));
    const made = [...outputs.keys()].map((name) => `${folder}/${name}`);
    reports.set(job.id, { id: job.id, files: made, errors: [] });
    if (!share) for (const file of made) write(`${file}\n`);
  }
  if (!share) return status;
  const inOrder = jobs.flatMap((job) => reports.get(job.id) ?? []);
  const report: BuildReport = { format: 'baywright-share/1', kind: 'build', share, library: digestOfLibrary(library), jobs: inOrder };
  write(`${JSON.stringify(report)}\n`);
  talk(
    `${inOrder.filter((one) => one.files.length > 0).length} of ${jobs.length} jobs are printed in share ${options.shard}; \`baywright merge\` joins the shares.\n`,
  );
  return 0;
}

/** The record in a file, if it is one of this very version of the job. */
function recordFor(job: CompiledJob, name: string, jobs: number): JobRecord {
  if (jobs > 1) throw new CannotRun('A record belongs to one job. Name the job: `baywright build JOB --record FILE`.');
  const text = realWorld.readLarge(absolute(name));
  if (text === null) throw new CannotRun(`The record ${name} cannot be read. Is the name right?`);
  const record = readRecord(text);
  if (!record)
    throw new CannotRun(
      `${name} is no record. Save one with “${wordsOf('en').screen.save}” in job.html (\`baywright build ${job.id} --format html\`).`,
    );
  if (record.job !== job.id) throw new CannotRun(`${name} is a record of job ${record.job}, and not of ${job.id}.`);
  if (record.digest !== job.digest)
    throw new CannotRun(
      `${name} was made from another version of job ${job.id} (${record.digest.slice(0, 8)}; now it is ${job.digest.slice(0, 8)}). Print it from the state of the library that the sheet was made from.`,
    );
  return record;
}

function readRecord(text: string): (JobRecord & { readonly job: string; readonly digest: string }) | null {
  const isObject = (value: unknown): value is Record<string, unknown> =>
    typeof value === 'object' && value !== null && !Array.isArray(value);
  try {
    const value: unknown = JSON.parse(text);
    if (!isObject(value) || value.format !== 'baywright-record/1') return null;
    const { job, digest, ticks, values } = value;
    if (typeof job !== 'string' || typeof digest !== 'string' || !isObject(ticks) || !isObject(values)) return null;
    if (!Object.values(values).every((one) => typeof one === 'string')) return null;
    return { job, digest, ticks, values: values as Record<string, string> };
  } catch {
    return null;
  }
}

const whyNot = (findings: readonly Finding[], draft: boolean): string =>
  findings.some((finding) => finding.severity === 'error')
    ? `errors stop paper. Mend them${draft ? '.' : ', or print a draft to look at with --draft.'}`
    : 'it could not be planned; see `baywright check`.';

/** The number of a step that was named by its number or by its id. */
function stepAfter(job: CompiledJob, name: string | undefined): number | null {
  if (name === undefined) return null;
  const named = job.steps.filter((one) => one.id === name);
  const step = job.steps.find((one) => String(one.n) === name) ?? named[0];
  if (named.length > 1)
    throw new CannotRun(`Job ${job.id} has several steps ${name}: ${named.map((one) => one.n).join(', ')}. Name one by its number.`);
  if (step) return step.n;
  const ids = job.steps.flatMap((one) => (one.id ? [one.id] : []));
  throw new CannotRun(
    `Job ${job.id} has no step ${name}. Its steps are 1 to ${job.steps.length}${ids.length > 0 ? `; with an id: ${oneOf(ids)}` : ''}.`,
  );
}
