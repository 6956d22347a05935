import type { Finding, Severity } from '../findings/finding.js';
import { compileJob } from '../job/compile-job.js';
import { type Card, neededId } from '../library/card.js';
import { isWork, type JobDocument, type LibraryFile } from '../library/document.js';
import { index, type Library, workDocument } from '../library/library.js';
import { asList } from '../library/scope.js';
import { once } from '../once.js';
import { neededBy } from '../plan/cast.js';
import type { AnyDocument, Needs } from '../schema/generated/types.js';
import { RuleContext } from './context.js';
import { allRules } from './index.js';
import type { Found, Rule } from './rule.js';
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
 * @param only paths of files to look at; without it, all
 */
export function checkDocuments(library: Library, share: Share = whole, only?: ReadonlySet<string>): Finding[] {
  const shared = new Shared(library);
  const { standing } = library;
  const looked = standing.filter((one, n) => hasPlace(share, n, standing.length) && (!only || only.has(one.file.path)));
  return [...looked.flatMap((one) => findingsOf(shared, one).findings), ...(share.index === 1 ? findingsOfAll(shared) : [])];
}

/** How long somebody waits for an answer. */
export interface Patience {
  /** Files that are looked at whatever it takes. */
  readonly first: (one: LibraryFile) => boolean;
  /** Asked before each of the others: whether the rest can wait. */
  readonly enough: () => boolean;
}

const untilDone: Patience = { first: () => false, enough: () => false };

/**
 * The same for a library that is looked at again and again: of one in which a few documents are others, it looks only at
 * those and at what depends on them. Where that is much, it answers with what it knows, and goes on when it is told to.
 */
export class Checker {
  private readonly looks = new Map<LibraryFile, Look>();
  /** Files that asked for a name, by `vehicle marn-20`, `work clutch`, `asks clutch`, `items seal`. */
  private readonly askers = new Map<string, Set<LibraryFile>>();
  private before: Shared | undefined;
  private waiting: LibraryFile[] = [];

  /** What is found, as far as patience reaches; the rest is as it was before, until `goOn` has looked at it. */
  check(library: Library, patience: Patience = untilDone): { readonly findings: Finding[]; readonly done: boolean } {
    const shared = new Shared(library);
    this.begin(shared);
    const looks = library.standing.map((one) => once(this.looks, one, notYet));
    this.waiting = [];
    for (const [n, one] of library.standing.entries()) {
      if (!looks[n]?.stale) continue;
      if (patience.first(one)) this.look(shared, one);
      else this.waiting.push(one);
    }
    this.waiting.reverse();
    const done = this.goOn(patience.enough);
    return { findings: [...looks.flatMap((look) => look.findings), ...findingsOfAll(shared)], done };
  }

  /** Looks at what the last check left, until it is enough; whether all is done. */
  goOn(enough: () => boolean): boolean {
    const { before: shared } = this;
    while (shared && this.waiting.length > 0 && !enough()) {
      const one = this.waiting.pop();
      if (one) this.look(shared, one);
    }
    return this.waiting.length === 0;
  }

  private look(shared: Shared, one: LibraryFile): void {
    const look = once(this.looks, one, notYet);
    this.unask(one, look);
    Object.assign(look, findingsOf(shared, one), { stale: false });
    this.ask(one, look);
  }

  private ask(one: LibraryFile, look: Look): void {
    for (const name of look.asked) once(this.askers, name, () => new Set<LibraryFile>()).add(one);
  }

  private unask(one: LibraryFile, look: Look): void {
    for (const name of look.asked) this.askers.get(name)?.delete(one);
  }

  /** Finds out in which documents something else may be found than before. */
  private begin(shared: Shared): void {
    const { library } = shared;
    const before = this.before ?? new Shared(index('', []));
    const [old, now] = [new Set(before.library.standing), new Set(library.standing)];
    const gone = before.library.standing.filter((one) => !now.has(one));
    const came = library.standing.filter((one) => !old.has(one));
    const changed = new Set(toldOtherwise(before, shared, gone, came));
    for (const { card } of [...gone, ...came]) {
      if (!card) continue;
      changed.add(nameOf(card));
      for (const id of card.work ?? []) changed.add(`asks ${id}`);
      if (card.kind === 'parts') for (const one of card.for ?? ['any']) changed.add(`catalogues ${one}`);
    }
    for (const one of gone) {
      const look = this.looks.get(one);
      if (look) this.unask(one, look);
      this.looks.delete(one);
    }
    if (changed.has('shop')) for (const look of this.looks.values()) look.stale = true;
    for (const name of changed)
      for (const one of this.askers.get(name) ?? []) {
        const look = this.looks.get(one);
        if (look) look.stale = true;
      }
    this.before = shared;
  }
}

/** What was found in a document when it was last looked at. */
export interface Look {
  findings: readonly Finding[];
  /** What it was asked for. */
  asked: ReadonlySet<string>;
  /** Something else may be found by now. */
  stale: boolean;
}

const notYet = (): Look => ({ findings: [], asked: new Set(), stale: true });

const nameOf = ({ kind, id }: Pick<Card, 'kind' | 'id'>): string =>
  kind === 'shop' ? 'shop' : `${kind === 'procedure' || kind === 'preparation' ? 'work' : kind} ${id}`;

/** What is found in one document, and the names of all that decides it. */
function findingsOf(shared: Shared, { document }: LibraryFile): { readonly findings: Finding[]; readonly asked: ReadonlySet<string> } {
  if (!document) return { findings: [], asked: new Set() };
  const context = new RuleContext(shared, [document]);
  const found = lookWith(single, (check) => check(context));
  const compiled = document.kind === 'job' ? compileJob(shared.library, document, { unsealed: true }).findings : [];
  return { findings: [...found, ...compiled], asked: new Set([...namesAsked(shared, document), ...context.asked]) };
}

const findingsOfAll = (shared: Shared): Finding[] => lookWith(comparing, (compare) => compare(shared));

/** Rules that look at one document at a time, and those that compare documents. */
const single = allRules.flatMap((rule) => (rule.check ? [{ rule, look: rule.check }] : []));
const comparing = allRules.flatMap((rule) => (rule.compare ? [{ rule, look: rule.compare }] : []));

function lookWith<L>(rules: readonly { readonly rule: Rule; readonly look: L }[], run: (look: L) => Iterable<Found>): Finding[] {
  const found: Finding[] = [];
  for (const { rule, look } of rules)
    for (const one of run(look))
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
    for (const vehicle of [...asList(found.for), ...shared.vehiclesFor(id, found.for === undefined ? undefined : asList(found.for))])
      names.add(`vehicle ${vehicle}`);
  };
  const works = (ids: readonly string[]) => {
    for (const id of [...ids, ...neededBy(library, ids)]) note(id);
  };
  const need = (wanted: Needs) => works(wanted.map(neededId));
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
