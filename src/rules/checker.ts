import type { Finding, Severity } from '../findings/finding.js';
import { compileJob } from '../job/compile-job.js';
import { isWork, type JobDocument } from '../library/document.js';
import { index, type Library, workDocument } from '../library/library.js';
import { asList } from '../library/scope.js';
import { once } from '../once.js';
import { neededBy, wantedOf } from '../plan/cast.js';
import type { AnyDocument, Needs } from '../schema/generated/types.js';
import { RuleContext } from './context.js';
import { allRules } from './index.js';
import type { Rule } from './rule.js';
import { Shared, toldOtherwise } from './shared.js';

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
  const { documents } = shared;
  const looked = documents.filter((document, n) => hasPlace(share, n, documents.length) && (!only || only.has(document)));
  return [...looked.flatMap((document) => findingsOf(shared, document).findings), ...(share.index === 1 ? findingsOfAll(shared) : [])];
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
  private readonly looks = new Map<AnyDocument, Look>();
  /** Documents that asked for a name, by `vehicle marn-20`, `work clutch`, `asks clutch`, `items seal`. */
  private readonly askers = new Map<string, Set<AnyDocument>>();
  private before: Shared | undefined;
  private waiting: AnyDocument[] = [];

  /** What is found, as far as patience reaches; the rest is as it was before, until `goOn` has looked at it. */
  check(library: Library, patience: Patience = untilDone): { readonly findings: Finding[]; readonly done: boolean } {
    const shared = new Shared(library);
    this.begin(shared);
    const looks = shared.documents.map((document) => once(this.looks, document, notYet));
    this.waiting = [];
    for (const [n, document] of shared.documents.entries()) {
      if (!looks[n]?.stale) continue;
      if (patience.first(document)) this.look(shared, document);
      else this.waiting.push(document);
    }
    this.waiting.reverse();
    const done = this.goOn(patience.enough);
    return { findings: [...looks.flatMap((look) => look.findings), ...findingsOfAll(shared)], done };
  }

  /** Looks at what the last check left, until it is enough; whether all is done. */
  goOn(enough: () => boolean): boolean {
    const { before: shared } = this;
    while (shared && this.waiting.length > 0 && !enough()) {
      const document = this.waiting.pop();
      if (document) this.look(shared, document);
    }
    return this.waiting.length === 0;
  }

  private look(shared: Shared, document: AnyDocument): void {
    const look = once(this.looks, document, notYet);
    const { findings, asked } = findingsOf(shared, document);
    this.unask(document, look);
    look.findings = findings;
    look.asked = new Set([...namesAsked(shared, document), ...asked]);
    look.stale = false;
    for (const name of look.asked) once(this.askers, name, () => new Set<AnyDocument>()).add(document);
  }

  private unask(document: AnyDocument, look: Look): void {
    for (const name of look.asked) this.askers.get(name)?.delete(document);
  }

  /** Finds out in which documents something else may be found than before. */
  private begin(shared: Shared): void {
    const { library, documents } = shared;
    const before = this.before ?? new Shared(index('', []));
    const [old, now] = [new Set(before.documents), new Set(documents)];
    const gone = before.documents.filter((document) => !now.has(document));
    const came = documents.filter((document) => !old.has(document));
    const changed = new Set(toldOtherwise(before, shared, gone, came));
    for (const document of [...gone, ...came]) {
      changed.add(nameOf(document));
      if (document.kind === 'job') for (const one of document.work) changed.add(`asks ${wantedOf(one, library).id}`);
      if (document.kind === 'parts')
        for (const one of document.for === undefined ? ['any'] : asList(document.for)) changed.add(`catalogues ${one}`);
    }
    for (const document of gone) {
      const look = this.looks.get(document);
      if (look) this.unask(document, look);
      this.looks.delete(document);
    }
    if (library.shop !== before.library.shop) for (const look of this.looks.values()) look.stale = true;
    for (const name of changed)
      for (const document of this.askers.get(name) ?? []) {
        const look = this.looks.get(document);
        if (look) look.stale = true;
      }
    this.before = shared;
  }
}

/** What was found in a document when it was last looked at. */
interface Look {
  findings: readonly Finding[];
  /** What it was asked for. */
  asked: ReadonlySet<string>;
  /** Something else may be found by now. */
  stale: boolean;
}

const notYet = (): Look => ({ findings: [], asked: new Set(), stale: true });

const nameOf = (document: AnyDocument): string =>
  document.kind === 'shop' ? 'shop' : `${isWork(document) ? 'work' : document.kind} ${document.id}`;

function findingsOf(shared: Shared, document: AnyDocument): { readonly findings: Finding[]; readonly asked: ReadonlySet<string> } {
  const context = new RuleContext(shared, [document]);
  const found = lookWith(single, context);
  const { asked } = context;
  if (document.kind !== 'job') return { findings: found, asked };
  return { findings: [...found, ...compileJob(shared.library, document, { unsealed: true }).findings], asked };
}

const findingsOfAll = (shared: Shared): Finding[] => lookWith(comparing, new RuleContext(shared, shared.documents));

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
