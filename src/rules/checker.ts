import type { Finding, Severity } from '../findings/finding.js';
import { compileJob } from '../job/compile-job.js';
import { isWork, type JobDocument } from '../library/document.js';
import { documentsOf, type Library, workDocument } from '../library/library.js';
import { asList } from '../library/scope.js';
import { neededBy, wantedOf } from '../plan/cast.js';
import type { AnyDocument, Needs } from '../schema/generated/types.js';
import { RuleContext, Shared } from './context.js';
import { allRules } from './index.js';
import type { Rule } from './rule.js';

/** A share of the documents, for a check that is spread over several machines: the `index`-th of `of`, from 1. */
export interface Share {
  readonly index: number;
  readonly of: number;
}

export const whole: Share = { index: 1, of: 1 };

/** Whether a share has the n-th of `total` things; shares are runs of neighbours, so that their reports join in order. */
export const hasPlace = ({ index, of }: Share, n: number, total: number): boolean => Math.floor((n * of) / total) === index - 1;

/** The severities of all rules, by name. */
export const severities: ReadonlyMap<string, Severity> = new Map(allRules.map((rule) => [rule.name, rule.severity]));

/**
 * What the rules and the compiling of jobs find in the share, not yet sorted; what reading the files finds is not among it.
 * @param only documents to look at; without it, all
 */
export function checkDocuments(library: Library, share: Share = whole, only?: ReadonlySet<AnyDocument>): Finding[] {
  const shared = new Shared(library);
  const documents = documentsOf(library);
  const looked = documents.filter((document, n) => hasPlace(share, n, documents.length) && (!only || only.has(document)));
  return [...looked.flatMap((document) => findingsOf(shared, document)), ...(share.index === 1 ? findingsOfAll(shared, documents) : [])];
}

/**
 * The same for a library that is looked at again and again: of one in which a few documents are others, it looks only at
 * those and at what depends on them.
 */
export class Checker {
  private readonly known = new Map<AnyDocument, readonly Finding[]>();
  /** Documents that asked for a name, by `vehicle marn-20`, `work clutch`, `asks clutch`. */
  private readonly askers = new Map<string, Set<AnyDocument>>();
  /** What each document asked for. */
  private readonly asked = new Map<AnyDocument, ReadonlySet<string>>();
  /** Documents that name something that nobody knows. */
  private readonly puzzled = new Set<AnyDocument>();
  private before = new Map<string, AnyDocument>();
  private basis: readonly unknown[] = [];

  check(library: Library): Finding[] {
    const shared = new Shared(library);
    const documents = documentsOf(library);
    this.forget(library, shared, documents);
    return [
      ...documents.flatMap((document) => this.known.get(document) ?? this.look(shared, document)),
      ...findingsOfAll(shared, documents),
    ];
  }

  private look(shared: Shared, document: AnyDocument): readonly Finding[] {
    const findings = findingsOf(shared, document);
    this.known.set(document, findings);
    const asked = namesAsked(shared, document);
    this.asked.set(document, asked);
    if (findings.some((finding) => finding.rule.startsWith('reference/unknown'))) this.puzzled.add(document);
    for (const name of asked) {
      const askers = this.askers.get(name);
      if (askers) askers.add(document);
      else this.askers.set(name, new Set([document]));
    }
    return findings;
  }

  /** Drops what may be found differently now. */
  private forget(library: Library, shared: Shared, documents: readonly AnyDocument[]): void {
    const now = new Map(documents.map((document) => [nameOf(document), document]));
    const basis = [
      library.shop,
      ...library.catalogues,
      [...library.vehicles.keys()].join(' '),
      [...library.preparations.keys()].join(' '),
      [...shared.measurements].join(' '),
      [...shared.broken].join(' '),
    ];
    const same = basis.length === this.basis.length && basis.every((one, index) => one === this.basis[index]);
    if (!same) {
      this.known.clear();
      this.askers.clear();
      this.asked.clear();
      this.puzzled.clear();
    } else {
      const changed = new Set<string>();
      const note = (name: string, document: AnyDocument | undefined) => {
        changed.add(name);
        if (document?.kind === 'job') for (const one of document.work) changed.add(`asks ${wantedOf(one, library).id}`);
      };
      for (const [name, document] of now) if (this.before.get(name) !== document) note(name, document);
      for (const [name, document] of this.before) if (now.get(name) !== document) note(name, document);
      const drop = (document: AnyDocument) => {
        this.known.delete(document);
        this.puzzled.delete(document);
        for (const name of this.asked.get(document) ?? []) this.askers.get(name)?.delete(document);
        this.asked.delete(document);
      };
      const stale = new Set([...changed].flatMap((name) => [...(this.askers.get(name) ?? [])]));
      for (const name of changed) {
        const old = this.before.get(name);
        if (old) stale.add(old);
      }
      // A suggestion for a name that nobody knows may be another one now.
      if (changed.size > 0) for (const document of this.puzzled) stale.add(document);
      for (const document of stale) drop(document);
    }
    this.before = now;
    this.basis = basis;
  }
}

const nameOf = (document: AnyDocument): string =>
  document.kind === 'shop' ? 'shop' : `${isWork(document) ? 'work' : document.kind} ${document.id}`;

function findingsOf(shared: Shared, document: AnyDocument): Finding[] {
  const context = new RuleContext(shared, [document]);
  const found = lookWith(single, context);
  return document.kind === 'job' ? [...found, ...compileJob(shared.library, document, { unsealed: true }).findings] : found;
}

const findingsOfAll = (shared: Shared, documents: readonly AnyDocument[]): Finding[] =>
  lookWith(comparing, new RuleContext(shared, documents));

type Check = NonNullable<Rule['check']>;
const checking = allRules.flatMap((rule) => (rule.check ? [{ rule, check: rule.check }] : []));
/** Rules that look at one document at a time, and those that compare documents. */
const single = checking.filter(({ rule }) => !rule.whole);
const comparing = checking.filter(({ rule }) => rule.whole);

function lookWith(rules: readonly { readonly rule: Rule; readonly check: Check }[], context: RuleContext): Finding[] {
  const found: Finding[] = [];
  for (const { rule, check } of rules)
    for (const one of check(context))
      found.push({
        rule: rule.name,
        severity: one.severity ?? rule.severity,
        message: one.message,
        span: one.span,
        ...(one.related ? { related: one.related } : {}),
        ...(one.fix ? { fix: one.fix } : {}),
      });
  return found;
}

/** The names of all documents that decide what is found in one. */
function namesAsked(shared: Shared, document: AnyDocument): Set<string> {
  const { library } = shared;
  const names = new Set([nameOf(document)]);
  const note = (id: string) => {
    names.add(`work ${id}`);
    const found = workDocument(library, id);
    if (!found) return;
    names.add(`asks ${id}`);
    for (const vehicle of [...asList(found.for), ...(shared.vehiclesOfJobs.get(id) ?? []).map((one) => one.id)])
      names.add(`vehicle ${vehicle}`);
  };
  const works = (ids: readonly string[]) => {
    for (const id of [...ids, ...neededBy(library, ids)]) note(id);
  };
  const need = (wanted: Needs) => works(wanted.map((one) => wantedOf(one, library).id));
  const job = (one: JobDocument) => {
    names.add(`vehicle ${one.vehicle}`);
    need(one.work);
    for (const other of Object.values(one.alternatives ?? {})) need(other.work);
  };
  if (isWork(document)) works([document.id]);
  if (document.kind === 'job') job(document);
  if (document.kind === 'parts') for (const id of asList(document.for)) names.add(`vehicle ${id}`);
  return names;
}
