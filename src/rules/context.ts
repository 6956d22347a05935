import { likely, type Names } from '../findings/suggest.js';
import type { VerbName } from '../ledger/verbs.js';
import type { Line } from '../ledger/ledger.js';
import type { Problem } from '../ledger/problem.js';
import type { Walk } from '../ledger/walk.js';
import { isWork, type JobDocument, type PartsDocument, type VehicleDocument, type WorkDocument } from '../library/document.js';
import { vehiclesSaid } from '../library/card.js';
import { isShipped, type Library } from '../library/library.js';
import { asList, isNamed, mergeScopes, namesToAsk, type Scope } from '../library/scope.js';
import { askedIn, combinations } from '../library/variants.js';
import { once } from '../once.js';
import { castOf } from '../plan/cast.js';
import { type Wanted, wantedOf } from '../plan/needs.js';
import { castOfJob, factsOf, outlineOf, type Outline, putInOrder } from '../plan/merge.js';
import { outcomesOf } from '../plan/outcomes.js';
import { asWritten, type Plan, type PlanStep } from '../plan/plan.js';
import { type WrittenStep, writtenIn } from '../plan/written.js';
import type { AnyDocument, Fastener } from '../schema/generated/types.js';
import type { DocumentKind } from '../schema/lookup.js';
import { isDamaged, spanOf, spanOfName } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import { unlikeTo } from './alike-vehicles.js';
import { moreThanNames } from './more-than-names.js';
import { type Phrased, phrasedIn } from './phrases.js';
import { byVerb, type PlanPlace, placesIn } from './places.js';
import type { Shared, SharedKind } from './shared.js';

export interface WalkedPlan {
  readonly plan: Plan;
  readonly walk: Walk;
  /** The documents asked for. */
  readonly asked: readonly string[];
  /** Nothing in it waits for an outcome: this is also the plan that is printed. */
  readonly settled: boolean;
}

export interface LeftOpen {
  readonly span: Span;
  readonly opened: PlanStep;
  readonly lines: Line[];
  readonly gates: PlanStep[];
  /** Other steps that open it again. */
  readonly again: PlanStep[];
}

export interface FastenerInPlace {
  readonly id: string;
  readonly group: Fastener;
  readonly document: VehicleDocument | WorkDocument;
  /** Where its name stands; asked for where something is found. */
  readonly at: () => Span;
}

/** What rules look at: some documents of a library, with the names of all others. Everything is computed once and shared by all rules. */
export class RuleContext {
  readonly library: Library;
  readonly works: readonly WorkDocument[];
  readonly vehicles: readonly VehicleDocument[];
  readonly jobs: readonly JobDocument[];
  readonly catalogues: readonly PartsDocument[];
  private madeFasteners: readonly FastenerInPlace[] | undefined;
  private madeSteps: readonly WrittenStep[] | undefined;
  private madePhrased: readonly Phrased[] | undefined;
  private madePlans: readonly WalkedPlan[] | undefined;
  private madeTroubled: readonly WalkedPlan[] | undefined;
  private madePlaces: readonly PlanPlace[] | undefined;
  private readonly madeVehicles = new Map<WorkDocument, readonly VehicleDocument[]>();
  private readonly madeUnlike = new Map<WorkDocument, readonly VehicleDocument[]>();
  private readonly madeScopes = new Map<WorkDocument, readonly Scope[]>();
  private placesByVerbs: Map<VerbName | readonly VerbName[], PlanPlace[]> | undefined;
  /** What was asked of all documents together: `items seal`, `any items`, `all items`. Where that changes, so may what is found. */
  readonly asked = new Set<string>();
  /**
   * @param subjects the documents that are looked at
   * @param onEach work is looked at on each vehicle that it is for; else, of those that are alike to it, on one
   */
  constructor(
    readonly shared: Shared,
    readonly subjects: readonly AnyDocument[],
    private readonly onEach = true,
  ) {
    this.library = shared.library;
    this.works = subjects.filter(isWork);
    this.vehicles = subjects.filter((one) => one.kind === 'vehicle');
    this.jobs = subjects.filter((one) => one.kind === 'job');
    this.catalogues = subjects.filter((one) => one.kind === 'parts');
  }

  get fasteners(): readonly FastenerInPlace[] {
    this.madeFasteners ??= [...this.vehicles, ...this.works].flatMap((document: VehicleDocument | WorkDocument) =>
      Object.entries(document.fasteners ?? {})
        .filter(([, group]) => !isDamaged(group))
        .map(([id, group]) => ({
          id,
          group,
          document,
          at: () => spanOf(document.fasteners ?? document, id, 'key'),
        })),
    );
    return this.madeFasteners;
  }

  /** Every step that is written. */
  get steps(): readonly WrittenStep[] {
    const [only, ...others] = this.works;
    this.madeSteps ??= only && others.length === 0 ? writtenIn(only).all : this.works.flatMap((document) => writtenIn(document).all);
    return this.madeSteps;
  }

  /** Those that say what no step should. */
  get phrased(): readonly Phrased[] {
    this.madePhrased ??= phrasedIn(this.steps);
    return this.madePhrased;
  }

  /** Every procedure on its own with its needs, every preparation written for a vehicle, every job: each variant walked. */
  get plans(): readonly WalkedPlan[] {
    this.madePlans ??= [...this.plansOfWork(), ...this.plansOfJobs()];
    return this.madePlans;
  }

  /** Every step of every plan, in the order of work. */
  get places(): readonly PlanPlace[] {
    this.madePlaces ??= placesIn(this.plans);
    return this.madePlaces;
  }

  /** Those of one verb, or of several, verb by verb. */
  placesOf(verbs: VerbName | readonly VerbName[]): readonly PlanPlace[] {
    this.placesByVerbs ??= byVerb(this.places);
    // Asked by nearly every rule: no closure is made where it is known.
    return this.placesByVerbs.get(verbs) ?? this.gathered(this.placesByVerbs, verbs);
  }

  private gathered(known: Map<VerbName | readonly VerbName[], PlanPlace[]>, verbs: VerbName | readonly VerbName[]): readonly PlanPlace[] {
    const places: PlanPlace[] = [];
    if (typeof verbs !== 'string') for (const verb of verbs) for (const place of this.placesOf(verb)) places.push(place);
    known.set(verbs, places);
    return places;
  }

  /** Whether any document declares a name. */
  isShared(kind: SharedKind, name: string): boolean {
    this.asked.add(`${kind} ${name}`);
    return this.shared.names(kind).has(name);
  }

  /** Whether any document declares any name of a kind. */
  anyShared(kind: SharedKind): boolean {
    this.asked.add(`any ${kind}`);
    return this.shared.names(kind).size > 0;
  }

  /** The names of all documents, to say which was meant. */
  allShared(kind: SharedKind): Names {
    this.asked.add(`all ${kind}`);
    return this.shared.names(kind);
  }

  /** Whether a document of this id stands in a file that could not be read: that is told there, and once. */
  isBroken(id: string): boolean {
    return this.isShared('broken', id);
  }

  /** Whether a document of this kind stands in a file that could not be read: what it has is not known. */
  isUnread(kind: DocumentKind): boolean {
    return this.isShared('unread', kind);
  }

  /** The plans in whose walk anything is wrong: few have any, and only these have problems. */
  get troubled(): readonly WalkedPlan[] {
    this.madeTroubled ??= this.plans.filter(({ walk }) => walk.problems.length > 0);
    return this.madeTroubled;
  }

  /** Problems of one kind over all walks. */
  problems<K extends Problem['kind']>(kind: K): Extract<Problem, { kind: K }>[] {
    return this.troubled.flatMap(({ plan, walk: walked }) => {
      const found = walked.problems.filter((problem): problem is Extract<Problem, { kind: K }> => problem.kind === kind);
      if (found.length === 0) return [];
      const doubtful = doubtfulNames(plan);
      return found.filter((problem) => !namesIn(problem).some((name) => doubtful.has(name)));
    });
  }

  /** Lines left open, those that one parameter of one step opened together as one. */
  leftOpen(kind: Line['kind']): LeftOpen[] {
    const groups = new Map<string, LeftOpen>();
    for (const { line, gates } of this.problems('left-open')) {
      if (line.kind !== kind) continue;
      const { step, verb } = line.opened;
      const span = spanOfName(step, verb, asWritten(line.opened, line.object));
      const key = `${span.file.path} ${span.start}`;
      const group = once(groups, key, () => ({ span, opened: line.opened, lines: [], gates: [], again: [] }));
      if (!group.lines.some((one) => one.object === line.object)) group.lines.push(line);
      addSteps(group.gates, gates);
      addSteps(
        group.again,
        line.again.filter((one) => one.step !== step),
      );
    }
    return [...groups.values()];
  }

  /** Where the name of an object stands: in the step, or in the need that gave it as a parameter. */
  objectSpan(step: PlanStep, object: string): Span {
    const walked = this.plans.find(({ plan }) => plan.steps.includes(step));
    return walked ? spanOfObject(walked.plan, step, object) : spanOf(step.step, step.verb);
  }

  vehiclesFor(work: WorkDocument): readonly VehicleDocument[] {
    const { shared, library } = this;
    return once(this.madeVehicles, work, () =>
      shared.vehiclesFor(work.id, vehiclesSaid(work)).flatMap((id) => library.vehicles.get(id) ?? []),
    );
  }

  /** Those on which a work is looked at. */
  private vehiclesUnlike(work: WorkDocument): readonly VehicleDocument[] {
    const all = this.vehiclesFor(work);
    return this.onEach ? all : once(this.madeUnlike, work, () => unlikeTo(this.library, work, all));
  }

  /** Whether there are vehicles on which it does not look at a work, as it looks at it on one that is alike. */
  get passesOver(): boolean {
    return this.works.some((work) => this.vehiclesUnlike(work).length < this.vehiclesFor(work).length);
  }

  scopesOf(work: WorkDocument): readonly Scope[] {
    return once(this.madeScopes, work, () => this.vehiclesUnlike(work).map((vehicle) => mergeScopes([work], vehicle)));
  }

  private *plansOfWork(): Iterable<WalkedPlan> {
    for (const work of this.works) {
      const vehicles = this.vehiclesUnlike(work);
      // Where nobody says which vehicle, what is opened and closed is walked all the same; what others need, with them, as only
      // with their vehicle it is known what may stay, and what is filled through.
      const without = work.for === undefined && vehicles.length === 0 && !isShipped(work) && !this.isShared('needed', work.id);
      for (const vehicle of without ? [null] : vehicles) {
        const cast = castOf(this.library, { work: [{ id: work.id, params: itself(work) }], vehicle });
        if (cast.incomplete || !cast.fits) continue;
        // Each variant that makes a difference to the steps; the rest of the features may be anything.
        const any = outlineOf(cast, {});
        const asked = new Set<string>();
        for (const { step } of any.steps) for (const name of askedIn(step.when)) asked.add(name);
        for (const facts of combinations(vehicle?.features ?? {}, asked))
          yield* walked(asked.size === 0 ? any : outlineOf(cast, facts), [work.id]);
      }
    }
  }

  private *plansOfJobs(): Iterable<WalkedPlan> {
    for (const job of this.jobs) {
      const cast = castOfJob(this.library, job);
      if (cast.incomplete || !cast.fits) continue;
      yield* walked(
        outlineOf(cast, factsOf(job)),
        job.work.map((one) => wantedOf(one, this.library).id),
      );
    }
  }
}

/** A step that is done in several rounds is one step, and told once. */
function addSteps(to: PlanStep[], steps: readonly PlanStep[]): void {
  for (const one of steps) if (!to.some(({ step }) => step === one.step)) to.push(one);
}

/** A parameter that nobody fills in stands for itself, so that what is opened with it must be closed with it. */
const itself = (work: WorkDocument): Wanted['params'] =>
  Object.fromEntries(
    Object.entries((work.kind === 'preparation' && work.params) || {}).flatMap(([name, { default: usual }]) =>
      usual === undefined ? [[name, [`$${name}`]]] : [],
    ),
  );

/** A plan, or one for each combination of the outcomes that its steps wait for. */
function* walked(outline: Outline, asked: readonly string[]): Iterable<WalkedPlan> {
  const { cast, facts } = outline;
  const branches = outcomesOf(outline.steps, cast);
  for (const one of branches.length === 0 ? [outline] : branches.map((outcomes) => outlineOf(cast, { ...facts, ...outcomes }))) {
    const plan = putInOrder(one);
    yield { plan, walk: plan.walk, asked, settled: branches.length === 0 };
  }
}

/** Where a name stands in the file: in the step, or in the need that gave it as a parameter. */
export function spanOfObject(plan: Plan, planned: PlanStep, object: string): Span {
  const { step, verb, participant } = planned;
  const name = asWritten(planned, object);
  if (asList(step[verb]).includes(name)) return spanOfName(step, verb, name);
  for (const { document } of plan.participants) {
    for (const need of document.needs ?? []) {
      if (typeof need !== 'object' || !Object.hasOwn(need, participant.document.id)) continue;
      const value = need[participant.document.id];
      if (typeof value === 'string' || Array.isArray(value)) {
        if (asList(value).includes(object)) return spanOfName(need, participant.document.id, object);
      } else
        for (const [name, one] of Object.entries(value ?? {}))
          if (asList(one).includes(object)) return spanOfName(value ?? need, name, object);
    }
  }
  return spanOf(step, verb);
}

export const stepSpan = (planned: PlanStep): Span => spanOf(planned.step, planned.verb);

/** `drain-plug` at line …: how a step is named in another step's message. */
export const stepWords = (planned: PlanStep): string => `“${planned.verb}: ${planned.objects.map((object) => object).join(', ')}”`;

/** Names that no profile declares, and those that were perhaps meant: what the ledger says of them is the same mistake again. */
function doubtfulNames(plan: Plan): Set<string> {
  const doubtful = new Set<string>();
  for (const { does, unnamed, participant } of plan.steps)
    for (const { written, meant } of unnamed) {
      if (meant !== undefined || does.objects === 'free') continue;
      const { scope } = participant;
      const kinds = does.objects;
      const said = moreThanNames(written, (name) => isNamed(scope, kinds, name));
      const near = said ? said.names : likely(written, namesToAsk(scope, kinds));
      for (const name of [written, ...near]) doubtful.add(name);
    }
  return doubtful;
}

function namesIn(problem: Problem): string[] {
  if ('line' in problem) return [problem.line.object];
  if ('lines' in problem) return problem.lines.map((line) => line.object);
  if ('joint' in problem) return [problem.joint.part, problem.joint.group];
  if ('part' in problem) return [problem.part];
  if ('by' in problem) return [problem.object, ...problem.by];
  return 'object' in problem ? [problem.object] : [];
}
