import type { Gap, KnownRule } from '../findings/control.js';
import type { Finding, Related } from '../findings/finding.js';
import { findingsOfJob } from '../job/compile-job.js';
import { type Card, neededId, vehiclesSaid, worksOf } from '../library/card.js';
import { fileOf, isWork, type JobDocument, type LibraryFile, type WorkDocument } from '../library/document.js';
import { index, type Library, workDocument } from '../library/library.js';
import { shippedAs } from '../library/root.js';
import { asList } from '../library/scope.js';
import { once } from '../once.js';
import { neededBy } from '../plan/needs.js';
import type { AnyDocument, Needs } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import { RuleContext } from './context.js';
import { allRules } from './index.js';
import type { Found, Rule, Tell } from './rule.js';
import { Shared, toldOtherwise } from './shared.js';

/** A share of the documents, for a check that is spread over several machines: the `index`-th of `of`, from 1. */
export interface Share {
  readonly index: number;
  readonly of: number;
}

export const whole: Share = { index: 1, of: 1 };

/** Whether a share has the n-th of `total` things; shares are runs of neighbours, so that their reports join in order. */
export const hasPlace = ({ index, of }: Share, n: number, total: number): boolean => Math.floor((n * of) / total) === index - 1;

/** Whether what a rule finds leaves a gap on the sheet: it says so, or says that something could not be read. */
const gapOf = ({ name, severity, leavesGap, check, compare }: Rule): Gap | null =>
  leavesGap ?? (severity === 'error' && /^(yaml|schema|quantity)\//.test(name) && !check && !compare ? 'figure' : null);

/** What a shop may decide about each rule, by name. */
export const knownRules: ReadonlyMap<string, KnownRule> = new Map(
  allRules.map((rule) => [rule.name, { severity: rule.severity, leavesGap: gapOf(rule) }]),
);

/**
 * What the rules and the compiling of jobs find in the share, not yet sorted; what reading the files finds is not among it.
 * @param each called before each look
 */
export function checkDocuments(library: Library, share: Share = whole, each: () => void = () => undefined): Finding[] {
  const shared = new Shared(library);
  const { standing } = library;
  const looked = standing.filter((_, n) => hasPlace(share, n, standing.length));
  return [
    ...looked.flatMap((one) => {
      each();
      return findingsIn(shared, one).findings;
    }),
    ...(share.index === 1 ? findingsOfAll(shared) : []),
  ];
}

/** How long somebody waits for an answer. */
export interface Patience {
  /** Files that are looked at whatever it takes. */
  readonly first: (one: LibraryFile) => boolean;
  /** Asked before each of the others: whether the rest can wait. */
  readonly enough: () => boolean;
}

/** What is found in some files of a library. */
interface Some {
  readonly foundIn: (one: LibraryFile) => readonly Finding[];
  readonly compared: readonly Finding[];
}

export const untilDone: Patience = { first: () => false, enough: () => false };

/**
 * The same for a library that is looked at again and again: of one in which a few documents are others, it looks only at
 * those and at what depends on them. Where that is much, it answers with what it knows, and goes on when it is told to.
 */
export class Checker {
  private readonly looks: Map<LibraryFile, Look>;
  /** Numbers of the names that files asked for: `vehicle marn-20`, `work clutch`, `asks clutch`, `items seal`. */
  private readonly numbers = new Map<string, number>();
  private before: Shared;
  private waiting: LibraryFile[] = [];
  private looked = false;

  /** @param earlier what was found in a library that was looked at by another run */
  constructor(earlier?: Earlier) {
    this.before = new Shared(earlier?.library ?? index('', []));
    for (const [n, name] of (earlier?.names ?? []).entries()) this.numbers.set(name, n);
    this.looks = new Map(earlier?.looks);
  }

  /** Whether it has looked at anything, and knows more than before. */
  get hasLooked(): boolean {
    return this.looked;
  }

  /** What has been found in each document that was looked at. */
  get found(): Iterable<readonly Finding[]> {
    return Array.from(this.looks.values(), ({ findings }) => findings);
  }

  /** What is found now, for a later run. */
  get now(): Earlier {
    const looks = new Map([...this.looks].filter(([, look]) => !look.stale));
    return { library: this.before.library, names: [...this.numbers.keys()], looks };
  }

  /** What is found, as far as patience reaches; the rest is as it was before, until `goOn` has looked at it. */
  check(library: Library, patience: Patience = untilDone): { readonly findings: Finding[]; readonly done: boolean } {
    const shared = this.begin(library);
    for (const one of library.standing) {
      if (this.isKnown(one)) continue;
      if (patience.first(one)) this.look(shared, one);
      else this.waiting.push(one);
    }
    this.waiting.reverse();
    const done = this.goOn(patience.enough);
    return { findings: [...library.standing.flatMap((one) => this.looks.get(one)?.findings ?? []), ...findingsOfAll(shared)], done };
  }

  /** Looks at some files and no others; what is found in each, and in comparing documents with them. */
  checkSome(library: Library, isWanted: (one: LibraryFile) => boolean): Some {
    const shared = this.begin(library);
    for (const one of library.standing) if (isWanted(one) && !this.isKnown(one)) this.look(shared, one);
    return { foundIn: (one) => (isWanted(one) && this.looks.get(one)?.findings) || [], compared: findingsOfAll(shared, isWanted) };
  }

  /** Looks at what the last check left, until it is enough; whether all is done. */
  goOn(enough: () => boolean): boolean {
    const { before: shared } = this;
    while (this.waiting.length > 0 && !enough()) {
      const one = this.waiting.pop();
      if (one) this.look(shared, one);
    }
    return this.waiting.length === 0;
  }

  private isKnown(one: LibraryFile): boolean {
    return this.looks.get(one)?.stale === false;
  }

  private look(shared: Shared, one: LibraryFile): void {
    this.looked = true;
    const { findings, asked } = findingsIn(shared, one);
    const names = one.document ? new Set([...namesAsked(shared, one.document), ...asked]) : [];
    this.looks.set(one, { findings, asked: Array.from(names, (name) => once(this.numbers, name, () => this.numbers.size)), stale: false });
  }

  /** Finds out in which documents something else may be found than before. */
  private begin(library: Library): Shared {
    const { before } = this;
    this.waiting = [];
    if (library === before.library) return before;
    const shared = new Shared(library);
    const { gone, came } = changes(before.library.standing, library.standing);
    const changed = new Set(toldOtherwise(before, shared, gone, came));
    for (const { card } of [...gone, ...came]) {
      if (!card) continue;
      changed.add(nameOf(card));
      if (card.kind === 'parts') for (const one of card.for ?? ['any']) changed.add(`catalogues ${one}`);
    }
    for (const one of gone) this.looks.delete(one);
    const isChanged = new Uint8Array(this.numbers.size);
    for (const name of changed) isChanged[this.numbers.get(name) ?? isChanged.length] = 1;
    for (const look of this.looks.values()) look.stale ||= changed.has('shop') || look.asked.some((number) => isChanged[number] === 1);
    this.before = shared;
    return shared;
  }
}

/** What stands in one of two lists and not in the other. Mostly few do, and all before and behind them is the same. */
function changes<T>(before: readonly T[], now: readonly T[]): { readonly gone: readonly T[]; readonly came: readonly T[] } {
  const shorter = Math.min(before.length, now.length);
  let start = 0;
  while (start < shorter && before[start] === now[start]) start++;
  let end = 0;
  while (end < shorter - start && before[before.length - 1 - end] === now[now.length - 1 - end]) end++;
  const [old, others] = [before.slice(start, before.length - end), now.slice(start, now.length - end)];
  const [isOld, isOther] = [new Set(old), new Set(others)];
  return { gone: old.filter((one) => !isOther.has(one)), came: others.filter((one) => !isOld.has(one)) };
}

/** What was found in a document when it was last looked at. */
export interface Look {
  readonly findings: readonly Finding[];
  /** Numbers of the names that decide it. */
  readonly asked: readonly number[];
  /** Something else may be found by now. */
  stale: boolean;
}

/** What a run found, for another, which goes on with it. */
export interface Earlier {
  readonly library: Library;
  /** By their numbers. */
  readonly names: readonly string[];
  readonly looks: ReadonlyMap<LibraryFile, Look>;
}

const nameOf = ({ kind, id }: Pick<Card, 'kind' | 'id'>): string =>
  kind === 'shop' ? 'shop' : `${kind === 'procedure' || kind === 'preparation' ? 'work' : kind} ${id}`;

/** What is found in the document of a file, and what was asked of all. */
function findingsIn(shared: Shared, file: LibraryFile): { readonly findings: readonly Finding[]; readonly asked: Iterable<string> } {
  const { document } = file;
  if (!document) return { findings: [], asked: [] };
  const { path } = fileOf(document);
  const { found, asked } = document.kind === 'job' ? foundInOrder(shared, document, file) : foundInDocument(shared, document);
  const here = (one: Finding): Finding => {
    if (one.span.file.path === path) return one;
    const needed = isWork(document) && one.span.file.path.startsWith(shippedAs) ? whereNeeded(document, shared.library, one) : [];
    return { ...one, from: [path], ...(needed.length > 0 && { related: [...(one.related ?? []), ...needed] }) };
  };
  return { findings: found.map(here), asked };
}

/** What a look found, and what it asked of all documents. */
interface Looked {
  readonly found: readonly Finding[];
  readonly asked: Iterable<string>;
}

/** What is found in a document that is no order. Where work has faults on one vehicle, others that are alike may have others. */
function foundInDocument(shared: Shared, document: AnyDocument): Looked {
  const few = new RuleContext(shared, [document], false);
  const found = foundBy(few, single);
  if (found.length === 0 || !few.passesOver) return { found, asked: few.asked };
  const all = new RuleContext(shared, [document]);
  return { found: foundBy(all, single), asked: all.asked };
}

/** What rules find in what a context looks at. */
function foundBy(context: RuleContext, rules: Iterable<readonly [Rule['looksAt'], readonly Looking[]]>): Finding[] {
  const findings: Finding[] = [];
  let asking: Rule | undefined;
  const tell: Tell = (found) => {
    if (asking) findings.push(findingOf(asking, found));
  };
  for (const [looksAt, looking] of rules) {
    if (looksAt !== undefined && context[looksAt].length === 0) continue;
    for (const { rule, look } of looking) {
      asking = rule;
      look(context, tell);
    }
  }
  return findings;
}

/** What is found in a job order; what others find in its plan and its figures may be known from another that is alike. */
function foundInOrder(shared: Shared, job: JobDocument, file: LibraryFile): Looked {
  const context = new RuleContext(shared, [job]);
  const own = foundBy(context, ofOrders);
  const { findings, asked } = shared.alike.foundIn(file, () => {
    const found = foundBy(context, ofAllElse);
    const plan = context.plans.find(({ settled }) => settled)?.plan;
    found.push(...findingsOfJob(shared.library, job, plan, (name) => context.asked.add(name)));
    return { findings: found, asked: [...context.asked] };
  });
  for (const name of asked) context.asked.add(name);
  return { found: [...own, ...findings], asked: context.asked };
}

/**
 * Where a document needs the one that comes with the tool in which something was found, or what needs that: nobody changes
 * that one, but what is needed with it, or what it is told, or a copy.
 */
function whereNeeded(document: WorkDocument, library: Library, { span }: Finding): readonly Related[] {
  const needs = document.needs ?? [];
  const leadsThere = (id: string): boolean => {
    const one = workDocument(library, id);
    return one !== undefined && fileOf(one).path === span.file.path;
  };
  const ids = needs.map(neededId);
  const direct = ids.findIndex(leadsThere);
  const at = direct >= 0 ? direct : ids.findIndex((id) => [...neededBy(library, [id])].some(leadsThere));
  const [shipped] = [...ids, ...neededBy(library, ids)].flatMap((id) => (leadsThere(id) ? (workDocument(library, id) ?? []) : []));
  return [
    { span: at >= 0 ? spanOf(needs, at) : spanOf(document, 'id'), message: `needed by \`${document.id}\` here` },
    ...(shipped
      ? [
          {
            span: spanOf(shipped, 'id'),
            message: `ships with the tool; \`baywright new preparation ${shipped.id}\` makes a copy of your own`,
          },
        ]
      : []),
  ];
}

function findingsOfAll(shared: Shared, isWanted: (one: LibraryFile) => boolean = () => true): Finding[] {
  const findings: Finding[] = [];
  for (const { rule, look } of comparing) look(shared, (found) => findings.push(findingOf(rule, found)), isWanted);
  return findings;
}

interface Looking {
  readonly rule: Rule;
  readonly look: NonNullable<Rule['check']>;
}

/**
 * Rules that look at one document at a time, by what they look at, and those that compare documents; in one form each, as they
 * are asked for each document.
 */
const single = new Map<Rule['looksAt'], Looking[]>();
for (const rule of allRules) if (rule.check) once(single, rule.looksAt, () => []).push({ rule, look: rule.check });
const isOfOrders = (looksAt: Rule['looksAt']): boolean => looksAt === 'jobs' || looksAt === 'subjects';
const ofOrders = [...single].filter(([looksAt]) => isOfOrders(looksAt));
const ofAllElse = [...single].filter(([looksAt]) => !isOfOrders(looksAt));
const comparing = allRules.flatMap((rule) => (rule.compare ? [{ rule, look: rule.compare }] : []));

const findingOf = (rule: Rule, { severity, message, span, about, related, fix }: Found): Finding => ({
  rule: rule.name,
  severity: severity ?? rule.severity,
  message,
  span,
  ...(about === undefined ? {} : { about }),
  ...(related ? { related } : {}),
  ...(fix ? { fix } : {}),
});

/** The names of all documents that decide what is found in one. */
function namesAsked(shared: Shared, document: AnyDocument): Set<string> {
  const { library } = shared;
  const names = new Set([nameOf(document)]);
  const works = (ids: readonly string[]) => {
    for (const id of [...ids, ...neededBy(library, ids)]) names.add(`work ${id}`);
  };
  const need = (wanted: Needs) => works(wanted.map(neededId));
  const work = (one: WorkDocument) => {
    const said = vehiclesSaid(one);
    if (!said) names.add(`asks ${one.id}`);
    for (const vehicle of said ?? shared.vehiclesFor(one.id, undefined)) names.add(`vehicle ${vehicle}`);
    works([one.id]);
  };
  const job = (one: JobDocument) => {
    names.add(`vehicle ${one.vehicle}`);
    for (const vehicle of [one.vehicle, 'any']) names.add(`catalogues ${vehicle}`);
    names.add('unread parts');
    need(worksOf(one));
  };
  if (isWork(document)) work(document);
  if (document.kind === 'job') job(document);
  if (document.kind === 'parts')
    for (const id of asList(document.for)) {
      names.add(`vehicle ${id}`);
      for (const vehicle of [id, 'any']) names.add(`catalogues ${vehicle}`);
    }
  return names;
}
