import type { Facts } from '../library/variants.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import type { Loose } from './gates.js';
import { fastenerOf, type Joint, jointsOfPart, stagesLater, stagesNow, stagesOfStep } from './joints.js';

/** A joint of a part that went on, or that was loosened and is tightened again. */
export interface Fitted {
  readonly joint: Joint;
  /** The step that puts it on, or begins to tighten it. */
  readonly fitted: PlanStep;
  /** The step since which it is tight, or its part off again; null where it never is. */
  readonly tight: PlanStep | null;
}

interface Owed extends Fitted {
  tight: PlanStep | null;
  stages: readonly number[];
  /** Stages with `after:`; owed to the end of the job, or to a slip. */
  later: readonly number[];
}

/** What is wrong with how a joint is tightened. */
export type TighteningProblem =
  | { readonly kind: 'owed'; readonly joint: Joint; readonly fitted: PlanStep; readonly stages: readonly number[] }
  | { readonly kind: 'tightened-again'; readonly step: PlanStep; readonly joint: Joint; readonly first: PlanStep }
  | { readonly kind: 'out-of-turn'; readonly step: PlanStep; readonly joint: Joint; readonly stage: number; readonly later: PlanStep };

/** The tightening that parts still need: owed from when they go on, done stage by stage. */
export class Tightening {
  private readonly owed = new Map<string, Owed>();
  private readonly all: Owed[] = [];
  /** The stages that are done at each joint since it was last put on or loosened, by the step that did them. */
  private readonly done = new Map<string, (PlanStep | undefined)[]>();

  /** @param facts the variant that is walked */
  constructor(private readonly facts: Facts) {}

  /** A part went on: its joints are to be tightened. */
  fitted(step: PlanStep, part: string): void {
    for (const joint of jointsOfPart(step.participant.scope, part)) {
      this.done.delete(joint.key);
      this.owe(step, joint);
    }
  }

  /** What was loosened and stayed on is being tightened again: all its stages, as if it had gone on. */
  begun(step: PlanStep, joint: Joint): void {
    if (!this.owed.has(joint.key)) this.owe(step, joint);
  }

  private owe(step: PlanStep, joint: Joint): void {
    const fastener = fastenerOf(step.participant.scope, joint, this.facts);
    if (!fastener || fastener.method) return;
    const owed: Owed = { joint, fitted: step, tight: null, stages: stagesNow(fastener), later: stagesLater(fastener) };
    this.owed.set(joint.key, owed);
    this.all.push(owed);
  }

  /** A part came off: nothing is owed for it. */
  removed(step: PlanStep, part: string): void {
    for (const { key } of jointsOfPart(step.participant.scope, part)) {
      const owed = this.owed.get(key);
      if (owed) owed.tight ??= step;
      this.owed.delete(key);
    }
  }

  /** Every joint of what went on, in that order. */
  get fittedJoints(): readonly Fitted[] {
    return this.all;
  }

  loosened(joint: Joint): void {
    this.done.delete(joint.key);
  }

  reTorqued(joint: Joint): void {
    const owed = this.owed.get(joint.key);
    if (owed) owed.later = noStages;
  }

  /** Of several joints that a name stands for, those that are owed are meant; else all. */
  meant(joints: readonly Joint[]): readonly Joint[] {
    let owed = 0;
    for (const { key } of joints) if (this.owed.has(key)) owed++;
    return owed === 0 || owed === joints.length ? joints : joints.filter(({ key }) => this.owed.has(key));
  }

  /** @param problems takes what is wrong with it */
  tighten(step: PlanStep, joints: readonly Joint[], problems: { push(problem: TighteningProblem): unknown }): void {
    const { scope } = step.participant;
    let again: { readonly joint: Joint; readonly first: PlanStep } | null = null;
    let isNew = false;
    for (const joint of joints) {
      const fastener = fastenerOf(scope, joint, this.facts);
      const owed = this.owed.get(joint.key);
      const done = once(this.done, joint.key, noneDone);
      const stages = fastener ? stagesOfStep(fastener, step.step) : [];
      // All of it needs the ground, and the step does not say that it stands there: that is told of the step.
      if (owed && stages.length === 0 && !step.step.stages) owed.stages = [];
      for (const stage of stages) {
        if (owed) owed.stages = without(owed.stages, stage);
        const first = done[stage];
        if (first) {
          // In a further round the same step is done again; where its part stayed on, that is told.
          if (first.step !== step.step) again ??= { joint, first };
          continue;
        }
        isNew = true;
        const later = laterStage(done, stage, step);
        if (later) problems.push({ kind: 'out-of-turn', step, joint, stage, later });
        done[stage] = step;
      }
      if (owed && owed.stages.length === 0) owed.tight ??= step;
    }
    // A name may stand for joints of which one was done before, and the others are done now.
    if (again && !isNew) problems.push({ kind: 'tightened-again', step, ...again });
  }

  /** The parts that are on and not tight. */
  loose(): readonly Loose[] {
    const found: Loose[] = [];
    for (const { joint, fitted, stages } of this.owed.values())
      if (stages.length > 0 && joint.part !== '') found.push({ part: joint.part, fitted });
    return found;
  }

  /** What is owed at the end: what nobody tightens, and what falls after the job. */
  left(): { readonly never: readonly TighteningProblem[]; readonly later: readonly { readonly joint: Joint; readonly stage: number }[] } {
    const never: TighteningProblem[] = [];
    const afterTheJob: { joint: Joint; stage: number }[] = [];
    for (const { joint, fitted, stages, later } of this.owed.values()) {
      if (stages.length > 0) never.push({ kind: 'owed', joint, fitted, stages });
      for (const stage of later) afterTheJob.push({ joint, stage });
    }
    return { never, later: afterTheJob };
  }
}

const noStages: readonly number[] = [];

/** Stages count from 1, and most joints have few: a list that grows by itself takes room for sixteen. */
const noneDone = (): (PlanStep | undefined)[] => [undefined, undefined, undefined, undefined];

const without = (stages: readonly number[], stage: number): readonly number[] =>
  stages.length === 1 && stages[0] === stage ? noStages : stages.includes(stage) ? stages.filter((one) => one !== stage) : stages;

/** Another step that has done a later stage already. */
function laterStage(done: readonly (PlanStep | undefined)[], stage: number, step: PlanStep): PlanStep | undefined {
  for (let n = stage + 1; n < done.length; n++) if (done[n] && done[n] !== step) return done[n];
  return undefined;
}
