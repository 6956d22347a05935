import { decided } from '../../compile.js';
import type { Finding } from '../../findings/finding.js';
import { revived } from '../../findings/stored.js';
import { fileAt, loadLibrary } from '../../library/library.js';
import { realWorld } from '../../world/real.js';
import { CannotRun } from '../../world/world.js';
import type { Format } from '../formats.js';
import { harmless } from '../harmless.js';
import { inFileNamed } from '../asked-file.js';
import { shippedFolder } from '../package-folder.js';
import { libraryAt, outOf } from '../root.js';
import { type BuildReport, type CheckReport, digestOfLibrary, readShare, type ShareReport } from '../share.js';
import { notDrawn, Stopped } from '../stopped.js';

export interface MergeOptions {
  readonly format: Format;
  readonly maxWarnings?: number;
  readonly colour: boolean;
}

/** Joins what several machines found or made of one library, as if one had done it. */
export async function merge(
  names: readonly string[],
  options: MergeOptions,
  report: (findings: readonly Finding[], files: number) => Promise<number>,
  write: (text: string) => void,
  talk: (text: string) => void,
): Promise<number> {
  const root = libraryAt(undefined);
  const library = loadLibrary(realWorld, root, shippedFolder, [outOf(root)]);
  const reports = names.map(reportIn);
  const first = reports[0];
  if (!first) throw new CannotRun('Name the files that the shares printed: `baywright merge share-*.json`.');
  whole(names, reports);
  const digest = digestOfLibrary(library);
  for (const [index, one] of reports.entries())
    if (one.library !== digest)
      throw new CannotRun(
        `${names[index]} was made from another state of this library. Check out the same state, or make the share again.`,
      );
  const byName = new Map(library.files.map(({ file }) => [file.path, file]));
  const fileOf = (name: string) => byName.get(name) ?? { path: name, text: '' };
  const inOrder = [...reports].sort((a, b) => a.share.index - b.share.index);
  if (first.kind === 'check') {
    const findings = (inOrder as CheckReport[]).flatMap((one) => one.findings.map((finding) => revived(finding, fileOf)));
    return report(decided(library, findings).findings, first.files);
  }
  let status = 0;
  const stopped = new Stopped(options.colour, ' Mend them.', (path) => fileAt(library, path)?.card === null);
  for (const one of inOrder as BuildReport[]) {
    const found = one.errors.map((finding) => revived(finding, fileOf));
    for (const { id, files, errors, refused } of one.jobs) {
      for (const file of files) write(`${harmless(file)}\n`);
      if (files.length > 0) continue;
      status = 1;
      const why = errors.flatMap((n) => found[n] ?? []);
      talk(refused === undefined ? stopped.says(id, why) : notDrawn(id, refused));
    }
  }
  return status;
}

const reportIn = (name: string): ShareReport =>
  inFileNamed('share', name, readShare, `Make one with \`baywright check --shard 1/4 > ${name}\`.`);

/** All shares of one kind and number, each once. */
function whole(names: readonly string[], reports: readonly ShareReport[]): void {
  const [first] = reports;
  if (!first) return;
  const other = reports.findIndex((one) => one.kind !== first.kind || one.share.of !== first.share.of);
  if (other >= 0) throw new CannotRun(`${names[0]} and ${names[other]} are not shares of the same run.`);
  const have = reports.map((one) => one.share.index);
  const twice = have.findIndex((index, at) => have.indexOf(index) !== at);
  if (twice >= 0) throw new CannotRun(`${names[twice]} is share ${have[twice]}/${first.share.of}, and so is another one. Name each once.`);
  const missing = Array.from({ length: first.share.of }, (_, n) => n + 1).filter((index) => !have.includes(index));
  if (missing.length > 0)
    throw new CannotRun(
      `${missing.length === 1 ? 'A share is' : 'Shares are'} missing: ${missing.map((index) => `${index}/${first.share.of}`).join(', ')}.`,
    );
}
