import { type Checked, compileForPaper } from '../compile.js';
import type { Allowed } from '../findings/control.js';
import { type Finding, hasErrors } from '../findings/finding.js';
import { type StoredFinding, stored } from '../findings/stored.js';
import type { LibraryFile } from '../library/document.js';
import { fileAt, requireShop } from '../library/library.js';
import { hasPlace, type Share } from '../rules/checker.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { realWorld } from '../world/real.js';
import { jobsNamed } from './jobs.js';
import { digest, type Listing } from './kept.js';
import { keepJob } from './kept-job.js';
import { absolute } from './root.js';
import { digestOfLibrary } from './share.js';
import { checkForJobs, openLibrary } from './shop.js';
import { Stopped } from './stopped.js';

/** A job that was asked for. */
export interface AskedJob {
  readonly id: string;
  /** The digest of all that it is compiled from: the same job is compiled from the same. Null where that is not known. */
  readonly from: string | null;
  compile(): Compiled;
}

/** A job that was to be compiled: null where errors stop it. */
export interface Compiled {
  readonly job: CompiledJob | null;
  /** What stops it. */
  readonly errors: readonly StoredFinding[];
  /** The same in words for who waits for its paper, but for what was told of a job before it. */
  readonly says: string;
}

/** Jobs that were asked for. */
export interface Asked {
  readonly ids: readonly string[];
  /** One by one, as they are taken. */
  readonly jobs: Iterable<AskedJob>;
  /** Digest over all files of the library, where a share was asked for. */
  readonly library: string;
}

export interface CompileOptions {
  /** In spite of errors. */
  readonly draft: boolean;
  /** For paper that is drawn with a font. */
  readonly drawn: boolean;
  readonly share: Share | null;
  readonly colour: boolean;
  /** The files of the library, where they are known already. */
  readonly listing: Listing | null;
}

/** The jobs of some names, or a share of them, checked and compiled as their library is now. */
export function compileNamed(names: readonly string[], { draft, drawn, share, colour, listing: known }: CompileOptions): Asked {
  const firstPath = names.find((name) => realWorld.kindOf(absolute(name)) === 'file' || realWorld.kindOf(absolute(name)) === 'folder');
  const opened = openLibrary(firstPath, known);
  const { library, listing } = opened;
  requireShop(library);
  const named = jobsNamed(library, names);
  const jobs = share ? named.filter((_, n) => hasPlace(share, n, named.length)) : named;
  const checkedFor = checkForJobs(opened, jobs);
  /** Of some files, by their names. */
  const digests = (used: ReadonlySet<string>): Record<string, string> =>
    Object.fromEntries(
      Array.from(used, (path) => {
        const file = fileAt(library, path);
        return [path, file ? opened.hashOf(file) : ''];
      }),
    );
  const hint = draft ? ' Mend them.' : ' Mend them, or print a draft to look at with --draft.';
  const stopped = new Stopped(colour, hint, (path) => fileAt(library, path)?.card === null);
  function* each(): Generator<AskedJob> {
    for (const job of jobs) {
      const checked = checkedFor(job);
      const used = digests(checked.used);
      const from = hasErrors(checked.findings) ? null : digest(JSON.stringify([drawn, used, checked.allowed.map(storedAllowed)]));
      const compile = (): Compiled => {
        const { value, findings } = compileForPaper(library, job, checked, { draft, drawn });
        const told = findings.filter((finding) => finding.severity === 'error');
        const errors = value || told.length > 0 ? told : whyNotPlanned(checked);
        if (!value) return { job: null, errors: errors.map(stored), says: stopped.says(job.id, errors) };
        opened.mustBeAsRead(checked.used);
        const [name, ...more] = names;
        if (name !== undefined && more.length === 0 && jobs.length === 1 && drawn && !hasErrors(findings) && library.files.every(isKnown))
          keepJob(name, library.root, value, used, listing);
        return { job: value, errors: [], says: '' };
      };
      yield { id: job.id, from, compile };
    }
  }
  return { ids: jobs.map((job) => job.id), jobs: each(), library: share ? digestOfLibrary(library) : '' };
}

/** What paper says of something that was allowed. */
const storedAllowed = ({ finding, reason }: Allowed) => ({ finding: stored(finding), reason });

/** What was allowed, and leaves a job that nobody can plan. */
const whyNotPlanned = ({ allowed }: Checked): Finding[] =>
  allowed.flatMap(({ finding }) =>
    finding.severity === 'error' ? [{ ...finding, message: `${finding.message} This was allowed, but the job cannot be planned.` }] : [],
  );

/** Whether it is known what a file is: else it may be any. */
const isKnown = ({ readable, card }: LibraryFile): boolean => readable && card !== null;
