import { deedsOf } from '../ledger/deeds.js';
import { type Ledger, ledgerFor } from '../ledger/walk.js';
import type { JobDocument } from '../library/document.js';
import type { Library } from '../library/library.js';
import type { Facts } from '../library/variants.js';
import { keepOrigin } from '../schema/origin.js';
import { type Cast, castOf, stepsIn } from './cast.js';
import { wantedOf } from './needs.js';
import { Plan, type PlanStep } from './plan.js';
import { chainsOfEach } from './written.js';

/** The steps of a cast with certain facts, before its close-ups are put in order. */
export interface Outline {
  readonly cast: Cast;
  readonly facts: Facts;
  /** Steps that stand in the order in which they are written: those of the preparations, then the work. */
  readonly firm: readonly PlanStep[];
  /** Steps whose places in the order the ledger decides: a chain a document, first the close-ups, then each moment of the finals. */
  readonly chains: readonly (readonly (readonly PlanStep[])[])[];
  /** Every step, in no order that matters. */
  readonly steps: readonly PlanStep[];
}

export function outlineOf(cast: Cast, facts: Facts): Outline {
  const opening: (readonly PlanStep[])[] = [];
  for (const { rounds, steps: listed } of cast.members) {
    const own = stepsIn(listed, facts);
    opening.push(own);
    for (let round = 1; round < rounds; round++) opening.push(own.map((step) => ({ ...step })));
  }
  const closing: (readonly PlanStep[])[] = [];
  const chains: (readonly PlanStep[])[][] = [];
  for (let n = 0; n < chainsOfEach; n++) {
    const moment: (readonly PlanStep[])[] = [];
    for (const member of cast.members) {
      const list = member.chains[n];
      const chain = list ? stepsIn(list, facts) : noSteps;
      if (chain.length > 0) moment.push(chain);
    }
    closing.push(...moment);
    chains.push(moment);
  }
  const firm = noSteps.concat(...opening);
  return { cast, facts, firm, chains, steps: firm.concat(...closing) };
}

const noSteps: readonly PlanStep[] = [];

/**
 * The plan of an outline. Each opening is done once: preparations in the order that the procedure with the longest way
 * in gives, then the work in the order of the job, then the close-ups, then the finals. A close-up step waits until
 * nothing in the ledger stands in its way; of those that may go, the one opened last goes first.
 */
export function putInOrder(outline: Outline): Plan {
  const { cast, facts, firm, chains } = outline;
  const ledger = ledgerFor(outline.steps, facts);
  const steps: PlanStep[] = [];
  for (const step of firm) {
    ledger.take(step);
    steps.push(step);
  }
  for (const moment of chains) interleave(moment, ledger, steps);
  return new Plan(cast, facts, steps, ledger.finish());
}

/** Takes the steps of several documents, each in its own order; of those that need not wait, the one opened last goes first. */
function interleave(chains: readonly (readonly PlanStep[])[], ledger: Ledger, into: PlanStep[]): void {
  const open: Queue[] = [];
  for (const chain of chains) open.unshift(new Queue(chain, open));
  while (open.length > 0) {
    const ready = open.length === 1 ? 0 : open.findIndex((queue) => queue.mayGo(ledger));
    const next = open[Math.max(ready, 0)];
    const step = next?.take();
    if (!step) return;
    if (next?.first === undefined) open.splice(Math.max(ready, 0), 1);
    ledger.take(step);
    into.push(step);
  }
}

/** The steps of one document that are still to come, and what they will do. */
class Queue {
  private at = 0;
  /** How often each deed is still to come; counted when somebody waits for one, which is seldom. */
  private deeds: Map<string, number> | undefined;

  /** @param all the queues that are waited for, this among them */
  constructor(
    private readonly steps: readonly PlanStep[],
    private readonly all: readonly Queue[],
  ) {}

  get first(): PlanStep | undefined {
    return this.steps[this.at];
  }

  /** Whether nothing stands in the way of its first step that another queue would still take away. */
  mayGo(ledger: Ledger): boolean {
    const { first } = this;
    return first !== undefined && ledger.isReady(first, this.othersDo, this.stillDoes);
  }

  private readonly othersDo = (deed: string): boolean => this.all.some((queue) => queue !== this && queue.stillDoes(deed));

  private readonly stillDoes = (deed: string): boolean => {
    if (!this.deeds) {
      this.deeds = new Map();
      for (let n = this.at; n < this.steps.length; n++) this.count(this.steps[n], 1);
    }
    return (this.deeds.get(deed) ?? 0) > 0;
  };

  take(): PlanStep | undefined {
    const step = this.steps[this.at++];
    this.count(step, -1);
    return step;
  }

  private count(step: PlanStep | undefined, by: number): void {
    if (step && this.deeds) for (const deed of deedsOf(step)) this.deeds.set(deed, (this.deeds.get(deed) ?? 0) + by);
  }
}

export const factsOf = (job: JobDocument): Facts =>
  Object.fromEntries(Object.entries(job.features ?? {}).map(([name, pinned]) => [name, pinned.is]));

/** Another way to do a job, which its quote compares with it. */
export interface OtherWay {
  readonly id: string;
  /** What it is, in the customer's words. */
  readonly says: string;
  /** The job as it would be this way. */
  readonly job: JobDocument;
}

/** The other ways to do a job. */
export const otherWays = ({ alternatives, ...job }: JobDocument): OtherWay[] =>
  Object.entries(alternatives ?? {}).map(([id, way]) => ({
    id,
    says: way.says,
    job: keepOrigin(way, { ...job, work: way.work, renew: way.renew ?? [] }),
  }));

/** A job as it is ordered, and in each other way. */
export const inEachWay = (job: JobDocument): JobDocument[] => [job, ...otherWays(job).map((way) => way.job)];

/** Who takes part in a job; incomplete where nobody knows its vehicle. */
export function castOfJob(library: Library, job: JobDocument): Cast {
  const vehicle = library.vehicles.get(job.vehicle) ?? null;
  return castOf(library, {
    work: job.work.map((one) => wantedOf(one, library)),
    vehicle,
    vehicleMissing: vehicle === null,
    renew: job.renew ?? [],
  });
}

export const planJob = (library: Library, job: JobDocument): Plan => putInOrder(outlineOf(castOfJob(library, job), factsOf(job)));
