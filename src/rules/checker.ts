import type { Finding, Severity } from '../findings/finding.js';
import { Names } from '../findings/suggest.js';
import { compileJob } from '../job/compile-job.js';
import { isWork, type JobDocument } from '../library/document.js';
import { documentsOf, type Library, workDocument } from '../library/library.js';
import { asList } from '../library/scope.js';
import { once } from '../once.js';
import { neededBy, wantedOf } from '../plan/cast.js';
import type { AnyDocument, Needs } from '../schema/generated/types.js';
import { RuleContext, Shared, type SharedKind, sharedKinds } from './context.js';
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
  return [
    ...looked.flatMap((document) => findingsOf(shared, document).findings),
    ...(share.index === 1 ? findingsOfAll(shared, documents) : []),
  ];
}

/** How long somebody waits for an answer. */
export interface Patience {
  /** Documents that are looked at whatever it takes. */
  readonly first: (document: AnyDocument) => boolean;
  /** Asked before each of the others: whether the rest can wait. */
  readonly enough: () => boolean;
}

const untilDone: Patience = { first: () => false, enough: () => false };

/**
 * The same for a library that is looked at again and again: of one in which a few documents are others, it looks only at
 * those and at what depends on them. Where that is much, it answers with what it knows, and goes on when it is told to.
 */
export class Checker {
  private readonly known = new Map<AnyDocument, readonly Finding[]>();
  /** Documents in which something else may be found by now. */
  private readonly stale = new Set<AnyDocument>();
  /** Documents that asked for a name, by `vehicle marn-20`, `work clutch`, `asks clutch`, `items seal`. */
  private readonly askers = new Map<string, Set<AnyDocument>>();
  /** What each document asked for. */
  private readonly asked = new Map<AnyDocument, ReadonlySet<string>>();
  private before = new Map<string, AnyDocument>();
  private shop: AnyDocument | null = null;
  private shared: Shared | undefined;
  private waiting: AnyDocument[] = [];

  /** What is found, as far as patience reaches; the rest is as it was before, until `goOn` has looked at it. */
  check(library: Library, patience: Patience = untilDone): { readonly findings: Finding[]; readonly done: boolean } {
    const documents = documentsOf(library);
    this.begin(library, documents);
    const shared = this.shared ?? new Shared(library);
    const due = documents.filter((document) => this.stale.has(document) || !this.known.has(document));
    for (const document of due) if (patience.first(document)) this.look(shared, document);
    this.waiting = due.filter((document) => !patience.first(document)).reverse();
    const done = this.goOn(patience.enough);
    const findings = [...documents.flatMap((document) => this.known.get(document) ?? []), ...findingsOfAll(shared, documents)];
    return { findings, done };
  }

  /** Looks at what the last check left, until it is enough; whether all is done. */
  goOn(enough: () => boolean): boolean {
    const { shared } = this;
    while (shared && this.waiting.length > 0 && !enough()) {
      const document = this.waiting.pop();
      if (document) this.look(shared, document);
    }
    return this.waiting.length === 0;
  }

  private look(shared: Shared, document: AnyDocument): void {
    this.forget(document);
    const { findings, asked } = findingsOf(shared, document);
    this.known.set(document, findings);
    const names = new Set([...namesAsked(shared, document), ...asked]);
    this.asked.set(document, names);
    for (const name of names) once(this.askers, name, () => new Set<AnyDocument>()).add(document);
  }

  private forget(document: AnyDocument): void {
    this.known.delete(document);
    this.stale.delete(document);
    for (const name of this.asked.get(document) ?? []) this.askers.get(name)?.delete(document);
    this.asked.delete(document);
  }

  /** Finds out in which documents something else may be found now. */
  private begin(library: Library, documents: readonly AnyDocument[]): void {
    const now = new Map(documents.map((document) => [nameOf(document), document]));
    const shared = new Shared(library);
    const changed = new Set<string>();
    const note = (name: string, document: AnyDocument) => {
      changed.add(name);
      if (document.kind === 'job') for (const one of document.work) changed.add(`asks ${wantedOf(one, library).id}`);
      if (document.kind === 'parts')
        for (const one of document.for === undefined ? ['any'] : asList(document.for)) changed.add(`catalogues ${one}`);
    };
    for (const [name, document] of now) if (this.before.get(name) !== document) note(name, document);
    for (const [name, document] of this.before)
      if (now.get(name) !== document) {
        note(name, document);
        this.forget(document);
      }
    for (const kind of sharedKinds)
      for (const name of otherNames(kind, this.shared?.names(kind) ?? new Names([]), shared.names(kind))) changed.add(name);
    if (library.shop !== this.shop) for (const document of this.known.keys()) this.stale.add(document);
    for (const name of changed) for (const document of this.askers.get(name) ?? []) this.stale.add(document);
    this.before = now;
    this.shop = library.shop;
    this.shared = shared;
  }
}

const nameOf = (document: AnyDocument): string =>
  document.kind === 'shop' ? 'shop' : `${isWork(document) ? 'work' : document.kind} ${document.id}`;

/** What was asked of names that other documents have now, as rules ask it. */
function otherNames(kind: SharedKind, before: Names, now: Names): string[] {
  const [old, others] = [[...before], [...now]];
  if (old.length === others.length && old.every((name, n) => name === others[n])) return [];
  const one = [...old.filter((name) => !now.has(name)), ...others.filter((name) => !before.has(name))];
  return [`all ${kind}`, ...((before.size === 0) !== (now.size === 0) ? [`any ${kind}`] : []), ...one.map((name) => `${kind} ${name}`)];
}

function findingsOf(shared: Shared, document: AnyDocument): { readonly findings: Finding[]; readonly asked: ReadonlySet<string> } {
  const context = new RuleContext(shared, [document]);
  const found = lookWith(single, context);
  const { asked } = context;
  if (document.kind !== 'job') return { findings: found, asked };
  return { findings: [...found, ...compileJob(shared.library, document, { unsealed: true }).findings], asked };
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
    for (const vehicle of [one.vehicle, 'any']) names.add(`catalogues ${vehicle}`);
    need(one.work);
    for (const other of Object.values(one.alternatives ?? {})) need(other.work);
  };
  if (isWork(document)) works([document.id]);
  if (document.kind === 'job') job(document);
  if (document.kind === 'parts')
    for (const id of asList(document.for)) {
      names.add(`vehicle ${id}`);
      for (const vehicle of [id, 'any']) names.add(`catalogues ${vehicle}`);
    }
  return names;
}
