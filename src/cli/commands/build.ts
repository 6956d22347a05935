import path from 'node:path';
import type { PaperFormat } from '../../emit/names.js';
import type { OutputOptions } from '../../emit/outputs.js';
import type { StoredFinding } from '../../findings/stored.js';
import { oneOf } from '../../findings/suggest.js';
import { once } from '../../once.js';
import type { Share } from '../../rules/checker.js';
import type { CompiledJob } from '../../schema/generated/compiled-job.js';
import { forward } from '../../world/paths.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import type { Asked, AskedJob, Compiled } from '../compiling.js';
import { recallJob } from '../kept-job.js';
import { keepMade, madeBefore, madeFrom } from '../made.js';
import { goesFrom, papersNamed } from '../papers.js';
import type { ToMake } from '../paper.js';
import { type Ordered, printed } from '../printing.js';
import { absolute } from '../root.js';
import { type BuildReport, shareOf } from '../share.js';
import { notDrawn } from '../stopped.js';

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

/** A job, and the folder that what is made of it goes into. */
interface InFolder extends Ordered {
  readonly id: string;
  readonly from: string | null;
  readonly folder: string;
  /** The names of its files, where they lie there already and need not be made. */
  readonly there: readonly string[];
  /** What is printed with the record that was saved of it. */
  readonly filledIn: ToMake | null;
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
  const share = options.shard === undefined ? null : shareOf(options.shard);
  const recordFor = options.record === undefined ? null : (await import('../commands.js')).recordFor;
  const asked = await jobsAsked(names, share, options);
  const out = absolute(options.out ?? 'out');
  realWorld.tidy(out);
  const reports = new Map<string, BuildReport['jobs'][number]>();
  const found = new Map<string, { readonly n: number; readonly error: StoredFinding }>();
  /** The place of an error among all that stop jobs. */
  const placeOf = (error: StoredFinding): number => once(found, JSON.stringify(error), () => ({ n: found.size, error })).n;
  const stopped = (id: string, { errors, says }: Compiled): void => {
    reports.set(id, { id, files: [], errors: share ? errors.map(placeOf) : [] });
    if (!share) talk(says);
  };
  const { format, workings } = options;
  const optionsOf: OptionsOf = (job) => ({
    format,
    workings,
    after: job && stepAfter(job, options.after),
    ...(job && recordFor && options.record !== undefined && { record: recordFor(job, options.record, asked.ids.length) }),
    ...(papers && { papers }),
  });
  let isOpen = false;
  // What a record or a step after which work stops asks for is known once its job is compiled; a job that was named alone is
  // kept as it is compiled.
  const isPlain = options.record === undefined && options.after === undefined && (asked.ids.length > 1 || names.length === 0);
  const jobsInFolders = inFolders(asked.jobs, out, { optionsOf, isPlain, stopped });
  for await (const { order, outputs, refused } of printed(jobsInFolders, asked.ids.length)) {
    const { id, from, folder, toMake, there } = order;
    if (refused !== null) {
      if (!share) talk(notDrawn(id, refused));
      reports.set(id, { id, files: [], errors: [], refused });
      continue;
    }
    if (outputs && toMake) {
      realWorld.writeFolder(folder, outputs, goesFrom(folder, outputs.get('job.json'), papers));
      keepMade(folder, from, toMake, outputs);
    }
    const files = [...(outputs?.keys() ?? there)].map((name) => `${folder}/${name}`);
    reports.set(id, { id, files, errors: [] });
    if (!share) for (const file of files) write(`${file}\n`);
    const open = order.filledIn ? await leftOpenBy(order.filledIn) : [];
    if (open.length > 0) talk(`${id} is not ready to be released. The record leaves open:\n${open.map((one) => `  ${one}\n`).join('')}`);
    isOpen ||= open.length > 0;
  }
  const jobs = asked.ids.flatMap((id) => reports.get(id) ?? []);
  const isPrinted = ({ files }: BuildReport['jobs'][number]): boolean => files.length > 0;
  if (!share) return jobs.every(isPrinted) && !isOpen ? 0 : 1;
  const errors = [...found.values()].map(({ error }) => error);
  const report: BuildReport = { format: 'baywright-share/1', kind: 'build', share, library: asked.library, errors, jobs };
  write(`${JSON.stringify(report)}\n`);
  talk(
    `${jobs.filter(isPrinted).length} of ${asked.ids.length} jobs are printed in share ${options.shard}; \`baywright merge\` joins the shares.\n`,
  );
  return 0;
}

/** What the record of a job leaves open; what lays out its sheet is loaded already where that was printed. */
const leftOpenBy = async (filledIn: ToMake): Promise<readonly string[]> => (await import('../paper.js')).reviewed(filledIn);

/** What is made of a compiled job, or of any as far as that is known before it is compiled. */
type OptionsOf = (job: CompiledJob | null) => OutputOptions;

interface Wanted {
  readonly optionsOf: OptionsOf;
  /** Whether the same is wanted of all jobs. */
  readonly isPlain: boolean;
  /** Hears of each job that errors stop. */
  readonly stopped: (id: string, compiled: Compiled) => void;
}

/** Jobs one by one. What lies in its folder as it would be made is not made, and where that is known before, not compiled. */
function* inFolders(jobs: Iterable<AskedJob>, out: string, { optionsOf, isPlain, stopped }: Wanted): Generator<InFolder> {
  for (const { id, from, compile } of jobs) {
    const folder = forward(path.join(out, id));
    const asBefore = isPlain ? madeFrom(folder, from, optionsOf(null)) : null;
    if (asBefore) {
      yield { id, from, folder, toMake: null, there: asBefore, filledIn: null };
      continue;
    }
    const compiled = compile();
    if (!compiled.job) {
      stopped(id, compiled);
      continue;
    }
    const toMake = { job: compiled.job, options: optionsOf(compiled.job) };
    const there = madeBefore(folder, from, toMake);
    yield { id, from, folder, toMake: there ? null : toMake, there: there ?? [], filledIn: toMake.options.record ? toMake : null };
  }
}

/** One job that is as it was is not compiled again. What compiles is loaded where it is needed. */
async function jobsAsked(names: readonly string[], share: Share | null, options: BuildOptions): Promise<Asked> {
  const { draft, format, colour } = options;
  const [name, ...more] = names;
  const { job, listing = null } = share === null && name !== undefined && more.length === 0 ? recallJob(name) : {};
  if (!job) return (await import('../commands.js')).compileNamed(names, { draft, drawn: format !== 'html', share, colour, listing });
  return { ids: [job.id], jobs: [{ id: job.id, from: null, compile: () => ({ job, errors: [], says: '' }) }], library: '' };
}

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
