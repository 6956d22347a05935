import { type Allowed, control } from './findings/control.js';
import { type Finding, hasErrors, type Staged, standsIn, tidy } from './findings/finding.js';
import { compileJob } from './job/compile-job.js';
import { fileOf, type JobDocument, type LibraryFile } from './library/document.js';
import { cataloguesAstray, cataloguesFor, fileAt, type Library } from './library/library.js';
import { notInFont } from './layout/characters.js';
import { castOfJob, inEachWay } from './plan/merge.js';
import { type Checker, checkDocuments, hasPlace, knownRules, type Patience, type Share, whole } from './rules/checker.js';
import { spanOf } from './schema/origin.js';
import { placeOf } from './source/source.js';
import type { CompiledJob } from './schema/generated/compiled-job.js';

/** What was found in a library, and what of it somebody allowed with a reason. */
export interface Checked {
  readonly findings: readonly Finding[];
  readonly allowed: readonly Allowed[];
}

/**
 * The whole pipeline: files were read into documents when the library was loaded; here the rules look at all of them,
 * and each job is compiled as it would be for paper. All faults of a library in one run, then what the shop decided
 * about them.
 */
export const checkAll = (library: Library): Checked => decided(library, found(library));

/** The same for a library that is looked at again and again. */
export function checkAgain(library: Library, checker: Checker, patience?: Patience): Checked & { readonly done: boolean } {
  const { findings, done } = checker.check(library, patience);
  return { ...decided(library, tidy([...library.files.flatMap((file) => file.findings), ...findings])), done };
}

/** The same for one job. */
export interface CheckedFor extends Checked {
  /** Paths of the files that decide what stands on its paper. */
  readonly used: ReadonlySet<string>;
}

/**
 * What concerns each of some jobs: found in the documents that it uses, and in files that could not be read. What is found
 * for another of them is its own matter, wherever it stands.
 */
export function checkFor(library: Library, jobs: readonly JobDocument[], checker: Checker): (job: JobDocument) => CheckedFor {
  const paths = new Set<string>();
  for (const job of jobs) for (const path of filesUsedBy(library, job)) paths.add(path);
  const { foundIn, compared } = checker.checkSome(library, (one) => paths.has(one.file.path));
  // What could not be read might be one of those that a job uses.
  const unknown = library.files.filter((one) => one.card === null).map((one) => one.file.path);
  return (job) => {
    const used = filesUsedBy(library, job);
    const places = new Set([...unknown, ...used]);
    const files = [...places].flatMap((path) => fileAt(library, path) ?? []);
    const findings = [...files.flatMap((one) => [...one.findings, ...foundIn(one)]), ...compared];
    const concern = findings.filter((finding) => standsIn(finding, (path) => places.has(path)));
    return { ...decided(library, concern, files), used };
  };
}

/**
 * What reading the files and the rules find, for the whole library or a share of it; before the shop's own decisions.
 * @param each called before each look
 */
export function found(library: Library, share: Share = whole, each?: () => void): Finding[] {
  const read = library.files.flatMap((file, n) => (hasPlace(share, n, library.files.length) ? file.findings : []));
  return tidy([...read, ...checkDocuments(library, share, each)]);
}

/**
 * Findings after what the shop decided about them: severities in shop.yaml, and what was allowed with a reason.
 * @param files those in which it may be allowed
 */
export function decided(library: Library, findings: readonly Finding[], files: readonly LibraryFile[] = library.files): Checked {
  const own = files.filter((file) => !file.shipped && file.allows).map((file) => file.file);
  const { shop } = library;
  const settings = { severities: shop?.rules ?? {}, spanOf: (rule: string) => spanOf(shop?.rules ?? shop ?? {}, rule, 'key') };
  const controlled = control(tidy(findings), own, settings, knownRules, (span) => placeOf(span.file, span.start).line);
  return { findings: tidy(controlled.findings), allowed: controlled.allowed };
}

/** What a check of the whole library finds. */
export const checkLibrary = (library: Library): readonly Finding[] => checkAll(library).findings;

/** What a job is compiled for. */
export interface Purpose {
  /** It is printed in spite of errors, and they with it. */
  readonly draft: boolean;
  /** It is drawn with a font, which has to have all of its characters. */
  readonly drawn: boolean;
}

/**
 * One job, compiled for paper. Errors stop it, unless a draft is asked for.
 * @param checked what `checkFor` found for it
 */
export function compileForPaper(
  library: Library,
  job: JobDocument,
  { findings, allowed }: Checked,
  purpose: Purpose,
): Staged<CompiledJob | null> {
  const errors = findings.filter((finding) => finding.severity === 'error');
  const marked = hasErrors(errors);
  if (marked && !purpose.draft) return { value: null, findings };
  const value = compileJob(library, job, { draft: marked, open: marked ? errors : [], allowed });
  const notDrawn = value && purpose.drawn ? cannotBeDrawn(findings, value) : [];
  return notDrawn.length > 0 ? { value: null, findings: [...errors, ...notDrawn] } : { value, findings };
}

/** The warnings of characters that the font lacks, as errors, if this job has them on its paper. */
function cannotBeDrawn(found: readonly Finding[], job: CompiledJob): Finding[] {
  const warned = found.filter(({ rule }) => rule === 'paper/no-character');
  if (warned.length === 0) return [];
  const all = JSON.stringify(job);
  /** As it stands there: control characters are spelt out. */
  const isUsed = (character: string): boolean => all.includes(JSON.stringify(character).slice(1, -1));
  return warned.filter(({ message }) => notInFont(message).some(isUsed)).map((finding) => ({ ...finding, severity: 'error' }));
}

/**
 * Paths of all files that decide what stands on the paper of a job, also of its other ways. Where one is missing, that is told
 * in a file that asks for it. A catalogue that names a vehicle which nobody knows may be meant for this one.
 */
function filesUsedBy(library: Library, job: JobDocument): Set<string> {
  const members = inEachWay(job).flatMap((way) => castOfJob(library, way).members.map(({ participant }) => participant.document));
  const catalogues = [...cataloguesFor(library, job.vehicle), ...cataloguesAstray(library)];
  const documents = [job, library.shop, library.vehicles.get(job.vehicle), ...catalogues, ...members];
  return new Set(documents.flatMap((document) => (document ? fileOf(document).path : [])));
}
