import type { Facts } from '../library/variants.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import type { Fastener } from '../schema/generated/types.js';
import type { Loose } from './gates.js';
import {
  comesWithinJob,
  distanceOf,
  fastenerOf,
  type Joint,
  jointsOfPart,
  leftToCome,
  roundOf,
  stagesLater,
  stagesNow,
  stagesOfStep,
} from './joints.js';

/** A joint of a part that went on, that was loosened and is tightened again, or that is loose until its part comes off. */
export interface Fitted {
  readonly joint: Joint;
  /** The step that puts it on, begins to tighten it, or loosens it. */
  readonly fitted: PlanStep;
  /** The step since which it is tight, or its part off again; null where it never is. */
  readonly tight: PlanStep | null;
  /** The step since which all that is left to do needs the vehicle on its wheels; null where that is never so. */
  readonly onGround: PlanStep | null;
}

interface LetGo extends Fitted {
  tight: PlanStep | null;
}

interface Owed extends LetGo {
  onGround: PlanStep | null;
  stages: readonly number[];
  /** Stages with `after:`; owed to the end of the job, or to a slip. */
  later: readonly number[];
}

/** A step that tightens a joint, and which of its stages it does there, by number. */
export interface Tightened {
  readonly step: PlanStep;
  readonly joint: Joint;
  readonly stages: readonly number[];
  /** How often the joint was tight and let go again until then: each time, what is never used again goes in new once more. */
  readonly timesLetGo: number;
}

/** A stage of a joint that comes after the job. */
export interface AfterTheJob {
  readonly joint: Joint;
  readonly stage: number;
}

/** What is wrong with how a joint is tightened. */
export type TighteningProblem =
  | { readonly kind: 'owed'; readonly joint: Joint; readonly fitted: PlanStep; readonly stages: readonly number[] }
  | {
      readonly kind: 're-torque-owed';
      readonly joint: Joint;
      readonly fitted: PlanStep;
      readonly stages: readonly number[];
      /** What the first of them comes after. */
      readonly after: string;
    }
  | { readonly kind: 're-torque-none'; readonly step: PlanStep; readonly joint: Joint }
  | { readonly kind: 're-torque-early'; readonly step: PlanStep; readonly joint: Joint; readonly after: string }
  | { readonly kind: 'tightened-again'; readonly step: PlanStep; readonly joint: Joint; readonly first: PlanStep }
  | { readonly kind: 'out-of-turn'; readonly step: PlanStep; readonly joint: Joint; readonly stage: number; readonly later: PlanStep };

/** The tightening that parts still need: owed from when they go on, done stage by stage. */
export class Tightening {
  private readonly owed = new Map<string, Owed>();
  private readonly all: Fitted[] = [];
  /** The stages that are done at each joint since it was last put on or loosened, by the step that did them. */
  private readonly done = new Map<string, (PlanStep | undefined)[]>();
  /** The joints, by key, that were let go since the job began: their part went on, or they were loosened. */
  private readonly moved = new Set<string>();
  /** How often each joint was tight in this job and was let go again. */
  private readonly tightBefore = new Map<string, number>();
  /** What is still to come at joints that are re-torqued and stayed tight. */
  private readonly stillToCome = new Map<string, { readonly joint: Joint; later: readonly number[] }>();
  private readonly work: Tightened[] = [];
  /** Joints that were loosened and whose parts, which come off later, are still on. */
  private readonly letGo = new Map<string, LetGo>();

  /** @param facts the variant that is walked */
  constructor(private readonly facts: Facts) {}

  /** A part went on: its joints are to be tightened. */
  fitted(step: PlanStep, part: string): void {
    for (const joint of jointsOfPart(step.participant.scope, part)) {
      this.done.delete(joint.key);
      this.moved.add(joint.key);
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
    const owed: Owed = { joint, fitted: step, tight: null, onGround: null, stages: stagesNow(fastener), later: stagesLater(fastener) };
    if (areOnGround(fastener, owed.stages)) owed.onGround = step;
    this.owed.set(joint.key, owed);
    this.all.push(owed);
  }

  /** A part came off: nothing is owed for it. */
  removed(step: PlanStep, part: string): void {
    for (const joint of jointsOfPart(step.participant.scope, part)) {
      const { key } = joint;
      const owed = this.owed.get(key);
      if (owed) owed.tight ??= step;
      this.countAgain(joint);
      this.owed.delete(key);
      this.moved.delete(key);
      this.isHeld(step, joint);
    }
  }

  /** Every joint of what went on, in that order. */
  get fittedJoints(): readonly Fitted[] {
    return this.all;
  }

  /** Every step that tightens something, with what it tightens. */
  get tightened(): readonly Tightened[] {
    return this.work;
  }

  /** @param comesOff whether its part comes off later: until then it is on and not tight */
  loosened(step: PlanStep, joint: Joint, comesOff: boolean): void {
    this.countAgain(joint);
    this.done.delete(joint.key);
    this.moved.add(joint.key);
    if (!comesOff || this.letGo.has(joint.key)) return;
    const one: LetGo = { joint, fitted: step, tight: null, onGround: null };
    this.letGo.set(joint.key, one);
    this.all.push(one);
  }

  private countAgain({ key }: Joint): void {
    if (this.owed.get(key)?.stages.length === 0) this.tightBefore.set(key, this.timesLetGo(key) + 1);
  }

  private timesLetGo = (key: string): number => this.tightBefore.get(key) ?? 0;

  private isHeld(step: PlanStep, { key }: Joint): void {
    const one = this.letGo.get(key);
    if (one) one.tight = step;
    this.letGo.delete(key);
  }

  /** Of several joints that a name stands for, those that were let go are meant; where none was, all. */
  meant(joints: readonly Joint[]): readonly Joint[] {
    let moved = 0;
    for (const { key } of joints) if (this.moved.has(key)) moved++;
    return moved === 0 || moved === joints.length ? joints : joints.filter(({ key }) => this.moved.has(key));
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
      const stages = fastener ? stagesOfStep(fastener, step.step) : noStages;
      this.work.push({ step, joint, stages, timesLetGo: this.timesLetGo(joint.key) });
      this.isHeld(step, joint);
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
      else if (owed && fastener && areOnGround(fastener, owed.stages)) owed.onGround ??= step;
    }
    // A name may stand for joints of which one was done before, and the others are done now.
    if (again && !isNew) problems.push({ kind: 'tightened-again', step, ...again });
  }

  /**
   * A joint that was tightened in this job has the next round of its stages that come within it; one that stayed tight has the
   * next that its last job left to come.
   * @param problems takes what is wrong with it
   */
  reTorque(step: PlanStep, joints: readonly Joint[], problems: { push(problem: TighteningProblem): unknown }): void {
    const { scope } = step.participant;
    for (const joint of joints) {
      const fastener = fastenerOf(scope, joint, this.facts);
      if (!fastener) continue;
      if (stagesLater(fastener).length === 0) {
        problems.push({ kind: 're-torque-none', step, joint });
        continue;
      }
      const owed = this.owed.get(joint.key);
      const due = owed ?? once(this.stillToCome, joint.key, () => ({ joint, later: leftToCome(fastener) }));
      const round = roundOf(fastener, step.step, due.later, owed !== undefined);
      if (round.length === 0) problems.push({ kind: 're-torque-early', step, joint, after: distanceOf(fastener) });
      due.later = due.later.filter((stage) => !round.includes(stage));
      this.work.push({ step, joint, stages: round, timesLetGo: this.timesLetGo(joint.key) });
    }
  }

  /** The parts that are on and not tight. */
  loose(): readonly Loose[] {
    const found: Loose[] = [];
    for (const { joint, fitted, stages, onGround } of this.owed.values())
      if (stages.length > 0 && joint.part !== '') found.push({ part: joint.part, fitted, onGround: onGround !== null });
    return found;
  }

  /** What is owed at the end: what nobody tightens, what nobody tightens again though it falls within the job, and what falls after it. */
  left(): { readonly never: readonly TighteningProblem[]; readonly later: readonly AfterTheJob[] } {
    const never: TighteningProblem[] = [];
    const later: AfterTheJob[] = [];
    for (const { joint, fitted, stages, later: toCome } of this.owed.values()) {
      for (const stage of toCome) later.push({ joint, stage });
      if (stages.length > 0) {
        never.push({ kind: 'owed', joint, fitted, stages });
        continue;
      }
      if (toCome.length === 0) continue;
      const fastener = fastenerOf(fitted.participant.scope, joint, this.facts);
      const missed = toCome.filter((stage) => fastener && comesWithinJob(fastener, stage));
      const after = fastener?.stages?.[(missed[0] ?? 0) - 1]?.after;
      if (after) never.push({ kind: 're-torque-owed', joint, fitted, stages: missed, after });
    }
    for (const { joint, later: toCome } of this.stillToCome.values()) for (const stage of toCome) later.push({ joint, stage });
    return { never, later };
  }
}

/** Whether all of these stages are done on the ground. */
function areOnGround(fastener: Fastener, stages: readonly number[]): boolean {
  for (const stage of stages) if (!fastener.stages?.[stage - 1]?.wheels) return false;
  return stages.length > 0;
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
