import { checkLibrary, compileForPaper } from '../../compile.js';
import type { Finding } from '../../findings/finding.js';
import { didYouMean, oneOf } from '../../findings/suggest.js';
import type { JobDocument } from '../../library/document.js';
import { fileOf } from '../../library/document.js';
import { type Library, requireShop } from '../../library/library.js';
import type { CompiledJob } from '../../schema/generated/compiled-job.js';
import { readFonts } from '../../world/fonts.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import { terminalReporter } from '../reporters/terminal.js';
import { absolute, openLibrary, packageFolder } from '../shop.js';

export interface BuildOptions {
  readonly out?: string;
  readonly draft: boolean;
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
  const findings = checkLibrary(library);
  const out = absolute(options.out ?? 'out');
  let status = 0;
  const compiled: CompiledJob[] = [];
  for (const job of jobs) {
    const result = compileForPaper(library, job, findings, options.draft);
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
    const files = await outputsOf(job, faces);
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

/** Jobs by id or by file; all jobs of the library where none is named. */
function jobsNamed(library: Library, names: readonly string[]): JobDocument[] {
  const all = [...library.jobs.values()];
  const folders = names.filter((name) => realWorld.kindOf(absolute(name)) === 'folder');
  if (names.length === 0 || folders.length === names.length) {
    const within =
      folders.length === 0
        ? all
        : all.filter((job) => folders.some((folder) => `${library.root}/${fileOf(job).path}`.startsWith(`${absolute(folder)}/`)));
    if (within.length === 0)
      throw new CannotRun(
        `There is no job order in ${folders[0] ?? library.root} that can be read. Make one with \`baywright new job ID\`, or see \`baywright check\`.`,
      );
    return within;
  }
  return names.map((name) => {
    const job = library.jobs.get(name) ?? all.find((one) => `${library.root}/${fileOf(one).path}` === absolute(name));
    if (job) return job;
    const broken = library.files.find((file) => `${library.root}/${file.file.path}` === absolute(name));
    if (broken)
      throw new CannotRun(
        broken.document
          ? `${name} is a ${broken.document.kind}, and not a job order.`
          : `${name} cannot be read as a job order; \`baywright check ${name}\` says why.`,
      );
    throw new CannotRun(
      `There is no job \`${name}\` in ${library.root}.${didYouMean(name, library.jobs.keys())} There are ${oneOf(library.jobs.keys())}.`,
    );
  });
}
