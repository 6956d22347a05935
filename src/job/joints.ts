import { fastenerOf, hasMethodAlone, type Joint as JointKey, jointsNamed, stagesLater, stagesOfStep } from '../ledger/joints.js';
import { asList } from '../library/scope.js';
import { holds } from '../library/variants.js';
import { isWhole } from '../library/written.js';
import { once } from '../once.js';
import { numberIn } from '../quantity/quantity.js';
import { tighteningOrder } from '../resolve/torque/sequence.js';
import type { Joint, Stage } from '../schema/generated/compiled-job.js';
import type { Fastener, Stage as RawStage } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import type { PlanStep } from '../plan/plan.js';
import { type JobContext, nameOf } from './context.js';
import { compileEstimates } from './estimates.js';
import { quantityText } from './format.js';
import { sourceOf } from './sources.js';
import { compileStage, stageOfMethod } from './stages.js';
import { holderName, toolName } from './tools.js';

export interface StepTorque {
  readonly joint: string;
  readonly stages: readonly number[];
}

export interface CompiledJoints {
  readonly joints: Joint[];
  /** Which joints and stages each step works on. */
  readonly byStep: ReadonlyMap<PlanStep, readonly StepTorque[]>;
  readonly fasteners: ReadonlyMap<string, Fastener>;
  readonly keys: ReadonlyMap<string, JointKey>;
}

/** Every joint that the plan tightens, in order of use, with the tool and the setting of each stage. */
export function compileJoints(context: JobContext): CompiledJoints {
  const { plan } = context;
  const drafts = new Map<string, { key: JointKey; fastener: Fastener; steps: PlanStep[]; code: string }>();
  const byStep = new Map<PlanStep, StepTorque[]>();
  for (const step of plan.steps) {
    if (step.verb !== 'tighten' && step.verb !== 're-torque') continue;
    const { scope } = step.participant;
    const named = step.objects.flatMap((object) => jointsNamed(scope, object));
    const touched = named.filter((key) => key.part === '' || named.length === 1 || isTouched(plan.steps, key.part) || drafts.has(key.key));
    for (const key of touched) {
      const fastener = fastenerOf(scope, key, plan.facts);
      if (!fastener) continue;
      for (const variant of scope.fasteners.get(key.group)?.variants ?? []) pinned(context, variant.when, key.group);
      const draft = drafts.get(key.key) ?? { key, fastener, steps: [], code: `T-${String(drafts.size + 1).padStart(2, '0')}` };
      drafts.set(key.key, draft);
      draft.steps.push(step);
      once(byStep, step, () => []).push({ joint: draft.code, stages: stagesAt(step, fastener) });
    }
  }
  const joints = [...drafts.values()].map((draft) => compileJoint(context, draft));
  return {
    joints,
    byStep,
    fasteners: new Map([...drafts.values()].map((draft) => [draft.code, draft.fastener])),
    keys: new Map([...drafts.values()].map((draft) => [draft.code, draft.key])),
  };
}

/** The stages that a step does, by number. */
function stagesAt(step: PlanStep, fastener: Fastener): readonly number[] {
  if (step.verb === 're-torque') return stagesLater(fastener).filter((n) => fastener.stages?.[n - 1]?.after !== 'distance');
  return hasMethodAlone(fastener) ? [1] : stagesOfStep(fastener, step.step);
}

const isTouched = (steps: readonly PlanStep[], part: string): boolean =>
  steps.some((step) => (step.verb === 'fit' || step.verb === 'close' || step.verb === 'connect') && step.objects.includes(part));

/** A variant that nobody has told apart at the vehicle stops paper: a torque must not be guessed. */
export function pinned(context: JobContext, when: Record<string, string | string[]>, what: string): void {
  if (holds(when, context.plan.facts) !== 'unknown' || !isWhole(context.job, 'features')) return;
  for (const name of Object.keys(when)) {
    const feature = context.vehicle.features?.[name];
    if (!feature || Object.hasOwn(context.plan.facts, name)) continue;
    const span = context.job.features ? spanOf(context.job, 'features', 'key') : spanOf(context.job, 'vehicle', 'key');
    context.report(
      'variant/not-pinned',
      `\`${what}\` depends on \`${name}\` (${feature.values.join(' or ')}), and this job does not say which it is. Look at the vehicle: ${feature.tell} Then write \`features: { ${name}: { is: "…", by: … } }\`.`,
      span,
      'error',
      name,
    );
  }
}

function compileJoint(context: JobContext, draft: { key: JointKey; fastener: Fastener; steps: PlanStep[]; code: string }): Joint {
  const { fastener, key, code, steps } = draft;
  const count = fastener.count ?? 1;
  const scope = steps[0]?.participant.scope ?? context.plan.scope;
  const facing = (fastener.facing ?? context.vehicle.facing ?? '').split(',').map((word) => word.trim());
  const positions = (fastener.positions ?? []).length === count ? (fastener.positions ?? []) : [];
  return {
    code,
    group: key.group,
    part: key.part || null,
    name:
      key.part && asList(scope.parts.get(key.part)?.fasteners).length > 0 && jointsNamed(context.plan.scope, key.group).length > 1
        ? `${nameOf(context, scope, key.group)}, ${nameOf(context, scope, key.part)}`
        : nameOf(context, scope, key.group),
    count,
    thread: fastener.thread ?? null,
    class: fastener.class ?? null,
    drive: fastener.drive ?? null,
    leftHand: fastener.hand === 'left',
    renew: fastener.reuse === 'never',
    reuse: fastener.reuse ?? null,
    threads: fastener.threads ?? null,
    counterHold: fastener['counter-hold'] ? holderName(context, fastener['counter-hold']) : null,
    adapter: fastener.adapter ? toolName(context, fastener.adapter) : null,
    boltByBolt: fastener.bolts === 'bolt by bolt',
    sequence: tighteningOrder(fastener.sequence, count, positions),
    positions: positions.map(([x, y]) => [x, y]),
    lengths: (fastener.lengths ?? []).length === count ? (fastener.lengths ?? []).map((length) => numberIn(length, 'mm')) : [],
    facing: positions.length > 0 && facing.length === 4 ? facing : ['', '', '', ''],
    stages: compileStages(context, code, fastener, count),
    ...compileEstimates(context, code, fastener),
    cure: fastener.cure ? quantityText(fastener.cure, context.words) : null,
    discardIf: fastener['discard-if'] ?? null,
    steps: [...new Set(steps)].map(context.numberOf),
    source: sourceOf(fastener),
  };
}

function compileStages(context: JobContext, code: string, fastener: Fastener, count: number): Stage[] {
  if (fastener.method && hasMethodAlone(fastener)) return [stageOfMethod(context, fastener.method, count)];
  return (fastener.stages ?? []).map((stage, index) => compileStage(context, code, fastener, stage, index + 1, count));
}

/** Distance re-torques that fall after the job. */
export const distanceStages = (fastener: Fastener): RawStage[] => (fastener.stages ?? []).filter((stage) => stage.after === 'distance');
