import { Bare } from '../bare.js';
import { fastenerOf, hasMethodAlone, jointsNamed, stagesInTheAir, stagesNow, stagesOfStep } from '../ledger/joints.js';
import { runsEngine } from '../ledger/engine.js';
import { isGate } from '../ledger/gates.js';
import { linesOf } from '../ledger/ledger.js';
import { openingPairs, type VerbName, verbOf } from '../ledger/verbs.js';
import type { VehicleDocument, WorkDocument } from '../library/document.js';
import { isFor, neededId } from '../library/card.js';
import { type Library, workDocument } from '../library/library.js';
import { asList, isParameter, mergeScopes, type Scope } from '../library/scope.js';
import { type Facts, holds, waysOf } from '../library/variants.js';
import { once } from '../once.js';
import { roundsFor } from '../resolve/fluids/rounds.js';
import { wayThrough } from '../resolve/fluids/ways.js';
import { hasLost } from '../schema/origin.js';
import type { Step, StepWhen, When } from '../schema/generated/types.js';
import type { Participant, PlanStep, Section } from './plan.js';
import { type Gathered, Gatherer, neededBy, type Wanted, wantedOf } from './needs.js';
import { inOpeningOrder } from './opening-order.js';
import { asMeant, unnamedIn } from './unnamed.js';
import { type WrittenStep, writtenIn } from './written.js';

export interface CastRequest {
  readonly work: readonly Wanted[];
  readonly vehicle: VehicleDocument | null;
  /** It is for a vehicle that nobody knows, and not for any. */
  readonly vehicleMissing?: boolean;
  readonly renew?: readonly string[];
}

/** Who takes part in a plan, with their parameters and steps: the same whatever the variant and the outcomes. */
export class Cast {
  private madeScope: Scope | undefined;

  /**
   * @param renewed parts that go back new, by procedures, preparations or the job
   * @param incomplete documents that were needed and not found, or could not be read, or are too many
   * @param fits all of them are meant for this vehicle; else what they do on it proves nothing
   */
  constructor(
    readonly members: readonly Member[],
    private readonly documents: readonly WorkDocument[],
    private readonly vehicle: VehicleDocument | null,
    readonly renewed: ReadonlySet<string>,
    readonly incomplete: boolean,
    readonly fits: boolean,
  ) {}

  /** The names of all of them together. */
  get scope(): Scope {
    this.madeScope ??= mergeScopes(this.documents, this.vehicle);
    return this.madeScope;
  }
}

export interface Member {
  readonly participant: Participant;
  /** Its steps, before the close-up, have the engine run or the vehicle driven. */
  readonly runs: boolean;
  /** How often its steps are done. */
  readonly rounds: number;
  readonly steps: StepList;
  /** The close-up, then the finals, a chain a moment. */
  readonly chains: readonly StepList[];
}

/** The steps of a list as they are in every plan, or as far as they are known without the facts. */
interface StepList {
  readonly steps: readonly PlanStep[];
  /** Those that depend on the facts: whether they are there at all, or what is left of their objects. */
  readonly varying: ReadonlySet<PlanStep>;
}

/** The work with all that it needs, in the order in which it opens. */
export function castOf(library: Library, request: CastRequest): Cast {
  const gatherer = new Gatherer(library);
  const reach = new Map(request.work.length > 1 ? request.work.map(({ id }) => [id, neededBy(library, [id]).size]) : []);
  const byReach = [...request.work].sort((a, b) => (reach.get(b.id) ?? 0) - (reach.get(a.id) ?? 0));
  for (const wanted of byReach) for (const need of workDocument(library, wanted.id)?.needs ?? []) gatherer.need(wantedOf(need, library));
  for (const wanted of request.work) gatherer.need(wanted);

  const asked = new Set(request.work.map((wanted) => wanted.id));
  const gathered = [...gatherer.found.values()];
  // What is asked for and needed by another as well opens before that, as what is only needed.
  const needed = new Set(asked.size > 1 ? gathered.flatMap(({ document }) => (document.needs ?? []).map(neededId)) : []);
  const isWork = ({ document: { id } }: Gathered) => asked.has(id) && !needed.has(id);
  const ordered =
    asked.size > 1
      ? new Set([
          ...gathered.filter((one) => !isWork(one)),
          ...request.work.flatMap((wanted) => gathered.filter((one) => one.document.id === wanted.id && isWork(one))),
        ])
      : gathered;
  const documents: WorkDocument[] = [];
  const members: Member[] = [];
  for (const one of ordered) {
    const { document } = one;
    const given = parameters(document, one.params);
    documents.push(document);
    members.push(
      asked.has(document.id)
        ? memberOf(document, given, request.vehicle, isWork(one) ? 'work' : 'preparation', true)
        : helperOf(document, given, request.vehicle),
    );
  }
  return new Cast(
    inOpeningOrder(members, library),
    documents,
    request.vehicle,
    new Set([...(request.renew ?? []), ...documents.flatMap((one) => one.renew ?? [])]),
    request.vehicleMissing === true || gatherer.incomplete || documents.some(hasHoles),
    request.vehicle === null || documents.every((one) => isFor(one, request.vehicle?.id ?? '')),
  );
}

const helpers = new WeakMap<WorkDocument, WeakMap<object, Map<string, Member>>>();
const noVehicle = {};

/** What only helps takes part in many plans in the same way: it is made once for a vehicle and its parameters. */
const helperOf = (document: WorkDocument, params: Participant['params'], vehicle: VehicleDocument | null): Member =>
  once(
    once(
      once(helpers, document, () => new WeakMap()),
      vehicle ?? noVehicle,
      () => new Map(),
    ),
    JSON.stringify(params),
    () => memberOf(document, params, vehicle, 'preparation', false),
  );

/** @param asked for itself, and not only needed by another: then as often as its fluid asks */
function memberOf(
  document: WorkDocument,
  params: Participant['params'],
  vehicle: VehicleDocument | null,
  section: Section,
  asked: boolean,
): Member {
  const participant = { document, scope: mergeScopes([document], vehicle), params };
  const written = writtenIn(document);
  const chains: StepList[] = [];
  for (const chain of written.chains) chains.push(listOf(participant, chain, chains.length === 0 ? 'close-up' : 'final'));
  const steps = listOf(participant, written.steps, section);
  return {
    participant,
    runs: section === 'preparation' && steps.steps.some(({ verb }) => runsEngine.has(verb)),
    rounds: asked ? roundsOf(participant, steps) : 1,
    steps,
    chains,
  };
}

/** Partial changes of a fluid: the steps as often as its `new-share` asks, with what comes out of the openings that they open. */
function roundsOf({ document, scope }: Participant, { steps }: StepList): number {
  const fluid = document.kind === 'procedure' && document.repeat ? scope.fluids.get(document.repeat) : undefined;
  if (!fluid) return 1;
  const opened = new Set(steps.flatMap(({ does, objects }) => (does.opens && openingPairs.has(does.opens) ? objects : [])));
  return roundsFor(fluid, wayThrough(fluid.drains, opened) ?? fluid.drains?.[0]);
}

const holes = new WeakMap<WorkDocument, boolean>();

/** A step whose verb could not be read leaves a hole in the ledger: nothing can be proved about the rest. */
const hasHoles = (document: WorkDocument): boolean =>
  once(holes, document, () => hasLost(document) || writtenIn(document).all.some(({ verbs }) => verbs !== 1));

function parameters(document: WorkDocument, given: ReadonlyMap<string, ReadonlySet<string>>): Record<string, readonly string[]> {
  const declared = document.kind === 'preparation' ? (document.params ?? {}) : {};
  const result = new Bare() as Record<string, readonly string[]>;
  for (const name of new Set([...Object.keys(declared), ...given.keys()])) {
    const values = given.get(name);
    result[name] = values ? [...values] : asList(declared[name]?.default);
  }
  return result;
}

/** Parameters of a preparation that nothing fills in: what works on them works on nothing. */
export function notTold({
  document,
  params,
}: Pick<Participant, 'document' | 'params'>): { readonly name: string; readonly says: string }[] {
  if (document.kind !== 'preparation') return [];
  return Object.entries(document.params ?? {}).flatMap(([name, { says }]) =>
    params[name]?.length === 0 ? [{ name, says: says ?? '' }] : [],
  );
}

/** The steps of one list, parameters filled in. */
function listOf(participant: Participant, written: readonly WrittenStep[], section: Section): StepList {
  if (written.length === 0) return nothing;
  const { scope, params } = participant;
  const steps: PlanStep[] = [];
  let varying: Set<PlanStep> | undefined;
  for (const { step, verb, names, takesParameters, moment } of written) {
    if (!verb) continue;
    const given = takesParameters ? names.flatMap((name) => (isParameter(name) ? (params[name.slice(1)] ?? []) : [name])) : names;
    if (given.length === 0) continue;
    const varies = step.when !== undefined || (takesParameters && (verb === 'tighten' || verb === 'loosen'));
    const does = verbOf(verb);
    const unnamed = unnamedIn(participant, does, given, names);
    const objects = asMeant(given, unnamed);
    const gate = isGate(scope, step, verb);
    const lines = linesOf(does, objects);
    const planned: PlanStep = { participant, section, moment, step, verb, does, objects, unnamed, lines, gate, conditional: null };
    steps.push(planned);
    if (varies) {
      varying ??= new Set();
      varying.add(planned);
    }
  }
  return { steps, varying: varying ?? none };
}

const none: ReadonlySet<PlanStep> = new Set();
const nothing: StepList = { steps: [], varying: none };

/** The steps of a list with these facts, without those of other variants. */
export function stepsIn({ steps, varying }: StepList, facts: Facts): readonly PlanStep[] {
  if (varying.size === 0) return steps;
  const result: PlanStep[] = [];
  for (const planned of steps) {
    const step = varying.has(planned) ? inVariant(planned, facts) : planned;
    if (step) result.push(step);
  }
  return result;
}

/** A step as it is with these facts; null where it is not. */
function inVariant(planned: PlanStep, facts: Facts): PlanStep | null {
  const { step, verb, participant } = planned;
  if (holds(step.when, facts) === false) return null;
  const written = asMeant(asList(step[verb]), planned.unnamed);
  const objects = planned.objects.filter((name) => written.includes(name) || hasWork(participant.scope, step, verb, name, facts));
  if (objects.length === 0) return null;
  const conditional = conditionOf(step.when, facts);
  return conditional === null && objects.length === planned.objects.length
    ? planned
    : { ...planned, objects, lines: linesOf(planned.does, objects), conditional };
}

/** A parameter may name a tap or a clip, which have nothing to tighten, or a joint that is done already in the air. */
function hasWork(scope: Scope, step: Step, verb: VerbName, name: string, facts: Facts): boolean {
  if (verb !== 'tighten' && verb !== 'loosen') return true;
  const fasteners = jointsNamed(scope, name).flatMap((joint) => fastenerOf(scope, joint, facts) ?? []);
  if (verb === 'loosen') return fasteners.length > 0;
  return fasteners.some(
    (fastener) =>
      (hasMethodAlone(fastener) && fastener.method === 'hand' && !step.wheels) ||
      (stagesOfStep(fastener, step).length > 0 &&
        !(step.wheels === 'on-ground' && stagesInTheAir(fastener, step).length === stagesNow(fastener).length)),
  );
}

/** What of a condition is not known: of its ways those that may still hold, each without what is known to. */
function conditionOf(when: StepWhen | undefined, facts: Facts): readonly When[] | null {
  if (when === undefined || holds(when, facts) === true) return null;
  const open = waysOf(when).filter((way) => holds(way, facts) !== false);
  return open.map((way) => Object.fromEntries(Object.entries(way).filter(([name]) => !Object.hasOwn(facts, name))));
}
