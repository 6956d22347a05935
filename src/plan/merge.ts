import { fastenerOf, jointsNamed, stagesNow, stagesOfStep } from '../ledger/joints.js';
import { isVerb, type VerbName, verbsIn } from '../ledger/verbs.js';
import { deedsOf, type Ledger, ledgerFor } from '../ledger/walk.js';
import type { JobDocument, VehicleDocument, WorkDocument } from '../library/document.js';
import { type Library, workDocument } from '../library/library.js';
import { asList, mergeScopes, type Scope, scopeOf } from '../library/scope.js';
import { type Facts, holds } from '../library/variants.js';
import { hasLost } from '../schema/origin.js';
import type { Needs, Step, When } from '../schema/generated/types.js';
import { roundsFor } from '../resolve/fluids/rounds.js';
import { moments, type Moment, type Participant, type Plan, type PlanStep, type Section } from './plan.js';

export interface Wanted {
  readonly id: string;
  readonly params: Readonly<Record<string, readonly string[]>>;
}

/** `wheels-off: [front-right]` gives the one parameter of a preparation; the long form names each. */
export function wantedOf(need: Needs[number], library: Library): Wanted {
  if (typeof need === 'string') return { id: need, params: {} };
  const [id = '', value = ''] = Object.entries(need)[0] ?? [];
  if (typeof value === 'string' || Array.isArray(value)) {
    const document = workDocument(library, id);
    const only = document?.kind === 'preparation' ? Object.keys(document.params ?? {})[0] : undefined;
    return { id, params: { [only ?? 'values']: asList(value) } };
  }
  return { id, params: Object.fromEntries(Object.entries(value).map(([name, one]) => [name, asList(one)])) };
}

interface Gathered {
  readonly document: WorkDocument;
  readonly params: Map<string, Set<string>>;
}

/** Documents in the order in which they open: what is needed comes before what needs it. */
class Gatherer {
  readonly found = new Map<string, Gathered>();
  incomplete = false;
  private readonly visiting = new Set<string>();

  constructor(private readonly library: Library) {}

  need(wanted: Wanted): void {
    const document = workDocument(this.library, wanted.id);
    if (!document || this.visiting.has(wanted.id)) {
      this.incomplete = true;
      return;
    }
    if (!this.found.has(wanted.id)) {
      this.visiting.add(wanted.id);
      for (const need of document.needs ?? []) this.need(wantedOf(need, this.library));
      this.visiting.delete(wanted.id);
      this.found.set(wanted.id, { document, params: new Map() });
    }
    const gathered = this.found.get(wanted.id);
    for (const [name, values] of Object.entries(wanted.params)) {
      const known = gathered?.params.get(name) ?? new Set<string>();
      for (const value of values) known.add(value);
      gathered?.params.set(name, known);
    }
  }
}

/** How many preparations a procedure stands on. */
function reach(library: Library, id: string, seen = new Set<string>()): number {
  for (const need of workDocument(library, id)?.needs ?? []) {
    const wanted = wantedOf(need, library);
    if (seen.has(wanted.id)) continue;
    seen.add(wanted.id);
    reach(library, wanted.id, seen);
  }
  return seen.size;
}

export interface PlanRequest {
  readonly work: readonly Wanted[];
  readonly vehicle: VehicleDocument | null;
  readonly facts: Facts;
  readonly renew?: readonly string[];
  /** Openings to drain through, by fluid, where the job says so. */
  readonly params?: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;
}

/**
 * Merges the work with all that it needs. Each opening is done once: preparations in the order that the procedure
 * with the longest way in gives, then the work in the order of the job, then the close-ups, then the finals. A
 * close-up step waits until nothing in the ledger stands in its way; of those that may go, the one opened last goes first.
 */
export function mergePlan(library: Library, request: PlanRequest): Plan {
  const gatherer = new Gatherer(library);
  const byReach = [...request.work].sort((a, b) => reach(library, b.id) - reach(library, a.id));
  for (const wanted of byReach) for (const need of workDocument(library, wanted.id)?.needs ?? []) gatherer.need(wantedOf(need, library));
  for (const wanted of request.work) gatherer.need(wanted);

  const requested = new Set(request.work.map((wanted) => wanted.id));
  const gathered = [...gatherer.found.values()];
  const ordered = [
    ...gathered.filter((one) => !requested.has(one.document.id)),
    ...request.work.flatMap((wanted) => gathered.filter((one) => one.document.id === wanted.id)),
  ];
  const participants: Participant[] = [...new Set(ordered)].map(({ document, params }, order) => ({
    document,
    order,
    scope: scopeOf(document, request.vehicle),
    params: parameters(document, params, request.params?.[document.id]),
  }));

  const { facts } = request;
  const opening = participants
    .filter((one) => !requested.has(one.document.id))
    .flatMap((one) => expand(one, one.document.steps, 'preparation', null, facts));
  const work = participants
    .filter((one) => requested.has(one.document.id))
    .flatMap((one) => repeated(one, expand(one, one.document.steps, 'work', null, facts)));
  const closing = participants.map((one) => expand(one, one.document['close-up'], 'close-up', null, facts));
  const finals = moments.map((moment) => participants.map((one) => expand(one, one.document.final?.[moment], 'final', moment, facts)));

  const everything = [...opening, ...work, ...closing.flat(), ...finals.flat(2)];
  const ledger = ledgerFor(everything, facts);
  const steps = [...opening, ...work];
  for (const step of steps) ledger.take(step);
  for (const chains of [closing, ...finals]) interleave(chains, ledger, steps);
  return {
    participants,
    facts,
    scope: mergeScopes(
      participants.map((one) => one.document),
      request.vehicle,
    ),
    steps,
    walk: ledger.finish(),
    renewed: new Set([...(request.renew ?? []), ...participants.flatMap((one) => one.document.renew ?? [])]),
    incomplete:
      gatherer.incomplete ||
      participants.some((one) => hasLost(one.document) || stepListsOf(one.document).some(({ steps }) => lostSteps(steps))),
  };
}

/** Takes the steps of several documents, each in its own order; of those that need not wait, the one opened last goes first. */
function interleave(chains: readonly (readonly PlanStep[])[], ledger: Ledger, into: PlanStep[]): void {
  const queues = [...chains].reverse().map((chain) => new Queue(chain));
  const waiting = () => queues.filter((queue) => queue.first !== undefined);
  for (let open = waiting(); open.length > 0; open = waiting()) {
    const comes = (own: Queue) => (deed: string) => open.some((queue) => queue !== own && queue.stillDoes(deed));
    const next = open.find((queue) => queue.first && ledger.isReady(queue.first, comes(queue))) ?? open[0];
    const step = next?.take();
    if (!step) return;
    ledger.take(step);
    into.push(step);
  }
}

/** The steps of one document that are still to come, and what they will do. */
class Queue {
  private at = 0;
  private readonly deeds = new Map<string, number>();

  constructor(private readonly steps: readonly PlanStep[]) {
    for (const deed of steps.flatMap(deedsOf)) this.deeds.set(deed, (this.deeds.get(deed) ?? 0) + 1);
  }

  get first(): PlanStep | undefined {
    return this.steps[this.at];
  }

  stillDoes(deed: string): boolean {
    return (this.deeds.get(deed) ?? 0) > 0;
  }

  take(): PlanStep | undefined {
    const step = this.steps[this.at++];
    for (const deed of step ? deedsOf(step) : []) this.deeds.set(deed, (this.deeds.get(deed) ?? 1) - 1);
    return step;
  }
}

/** Partial changes of a fluid: the steps as often as its `new-share` asks. */
function repeated(participant: Participant, steps: PlanStep[]): PlanStep[] {
  const { document, scope } = participant;
  const fluid = document.kind === 'procedure' && document.repeat ? scope.fluids.get(document.repeat) : undefined;
  const rounds = fluid ? roundsFor(fluid) : 1;
  return Array.from({ length: rounds }, () => steps.map((step) => ({ ...step }))).flat();
}

/** A step whose verb could not be read leaves a hole in the ledger: nothing can be proved about the rest. */
const lostSteps = (steps: readonly Step[]): boolean => steps.some((step) => verbsIn(step).length !== 1);

function parameters(
  document: WorkDocument,
  given: ReadonlyMap<string, ReadonlySet<string>>,
  override: Readonly<Record<string, readonly string[]>> | undefined,
): Record<string, readonly string[]> {
  const declared = document.kind === 'preparation' ? (document.params ?? {}) : {};
  const result: Record<string, readonly string[]> = {};
  for (const name of new Set([...Object.keys(declared), ...given.keys()])) {
    result[name] = override?.[name] ?? (given.get(name) ? [...(given.get(name) ?? [])] : asList(declared[name]?.default));
  }
  return result;
}

/** The steps of one list, parameters filled in, without those of other variants. */
export function expand(
  participant: Participant,
  steps: readonly Step[] | undefined,
  section: Section,
  moment: Moment | null,
  facts: Facts,
): PlanStep[] {
  const result: PlanStep[] = [];
  for (const step of steps ?? []) {
    const verb = Object.keys(step).find(isVerb);
    if (!verb) continue;
    if (holds(step.when, facts) === false) continue;
    const objects = asList(step[verb]).flatMap((name) =>
      name.startsWith('$')
        ? (participant.params[name.slice(1)] ?? []).filter((value) => hasWork(participant.scope, step, verb, value, facts))
        : [name],
    );
    if (objects.length === 0) continue;
    result.push({ participant, section, moment, step, verb, objects, conditional: conditionOf(step.when, facts) });
  }
  return result;
}

/** A parameter may name a tap, which has nothing to tighten, or a joint that is done already in the air. */
function hasWork(scope: Scope, step: Step, verb: VerbName, name: string, facts: Facts): boolean {
  if (verb !== 'tighten' && verb !== 'loosen') return true;
  const fasteners = jointsNamed(scope, name).flatMap((joint) => fastenerOf(scope, joint, facts) ?? []);
  if (verb === 'loosen') return fasteners.length > 0;
  const inTheAir = { ...step, wheels: undefined };
  return fasteners.some(
    (fastener) =>
      stagesOfStep(fastener, step).length > 0 &&
      !(step.wheels === 'on-ground' && stagesOfStep(fastener, inTheAir).length === stagesNow(fastener).length),
  );
}

function conditionOf(when: When | undefined, facts: Facts): When | null {
  const unknown = Object.entries(when ?? {}).filter(([name]) => !Object.hasOwn(facts, name));
  return unknown.length > 0 ? Object.fromEntries(unknown) : null;
}

export function stepListsOf(
  document: WorkDocument,
): { readonly section: Section; readonly moment: Moment | null; readonly steps: readonly Step[] }[] {
  return [
    { section: document.kind === 'procedure' ? 'work' : 'preparation', moment: null, steps: document.steps },
    { section: 'close-up', moment: null, steps: document['close-up'] ?? [] },
    ...moments.map((moment) => ({ section: 'final' as const, moment, steps: document.final?.[moment] ?? [] })),
  ];
}

export const factsOf = (job: JobDocument): Facts =>
  Object.fromEntries(Object.entries(job.features ?? {}).map(([name, pinned]) => [name, pinned.is]));

/** @param outcomes of measurements and choices, where one branch is planned */
export function planJob(library: Library, job: JobDocument, outcomes: Facts = {}): Plan {
  const vehicle = library.vehicles.get(job.vehicle) ?? null;
  const plan = mergePlan(library, {
    work: job.work.map((one) => wantedOf(one, library)),
    vehicle,
    facts: { ...factsOf(job), ...outcomes },
    renew: job.renew ?? [],
  });
  return vehicle ? plan : { ...plan, incomplete: true };
}
