import { checkAll, compileForPaper } from '../../compile.js';
import type { Finding } from '../../findings/finding.js';
import { oneOf } from '../../findings/suggest.js';
import type { PaperFormat } from '../../emit/outputs.js';
import { requireShop } from '../../library/library.js';
import type { CompiledJob } from '../../schema/generated/compiled-job.js';
import { readFonts } from '../../world/fonts.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import { jobsNamed } from '../jobs.js';
import { terminalReporter } from '../reporters/terminal.js';
import { packageFolder } from '../package-folder.js';
import { absolute } from '../root.js';
import { openLibrary } from '../shop.js';

export interface BuildOptions {
  readonly format: PaperFormat;
  readonly out?: string;
  readonly draft: boolean;
  /** With a page of workings at the end of the bay sheet. */
  readonly workings: boolean;
  /** Step after which work stops, by number or id: with its hand-over tag. */
  readonly after?: string;
  readonly colour: boolean;
}

/** Compiles jobs into paper. A job with errors is not printed, and its last good paper stays where it is. */
export async function build(
  names: readonly string[],
  options: BuildOptions,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const firstPath = names.find((name) => realWorld.kindOf(absolute(name)) === 'file' || realWorld.kindOf(absolute(name)) === 'folder');
  const library = openLibrary(firstPath, options.out);
  requireShop(library);
  const jobs = jobsNamed(library, names);
  const checked = checkAll(library);
  const out = absolute(options.out ?? 'out');
  let status = 0;
  const compiled: CompiledJob[] = [];
  for (const job of jobs) {
    const result = compileForPaper(library, job, checked, options.draft);
    if (result.value) compiled.push(result.value);
    else {
      status = 1;
      talk(
        terminalReporter(
          { findings: result.findings.filter((finding) => finding.severity === 'error'), files: 1 },
          { colour: options.colour },
        ),
      );
      talk(`${job.id} is not printed: ${whyNot(result.findings)}\n\n`);
    }
  }
  if (compiled.length === 0) return status;
  const [{ outputsOf }, { openFaces }] = await Promise.all([import('../../emit/outputs.js'), import('../../emit/pdf/fonts.js')]);
  const faces = openFaces(readFonts(`${packageFolder}/dist/fonts`));
  for (const job of compiled) {
    const files = await outputsOf(job, faces, { format: options.format, workings: options.workings, after: stepAfter(job, options.after) });
    const folder = `${out}/${job.id}`;
    realWorld.writeFolder(folder, files);
    for (const name of files.keys()) write(`${folder}/${name}\n`);
  }
  return status;
}

const whyNot = (findings: readonly Finding[]): string =>
  findings.some((finding) => finding.severity === 'error')
    ? 'errors stop paper. Mend them, or print a draft to look at with --draft.'
    : 'it could not be planned; see `baywright check`.';

/** The number of a step that was named by its number or by its id. */
function stepAfter(job: CompiledJob, name: string | undefined): number | null {
  if (name === undefined) return null;
  const step = job.steps.find((one) => String(one.n) === name || one.id === name);
  if (step) return step.n;
  const ids = job.steps.flatMap((one) => (one.id ? [one.id] : []));
  throw new CannotRun(
    `Job ${job.id} has no step ${name}. Its steps are 1 to ${job.steps.length}${ids.length > 0 ? `; with an id: ${oneOf(ids)}` : ''}.`,
  );
}
