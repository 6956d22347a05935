import { fastenerOf, hasMethodAlone, type Joint as JointKey } from '../ledger/joints.js';
import { holds } from '../library/variants.js';
import { isWhole } from '../library/written.js';
import { once } from '../once.js';
import { numberIn } from '../quantity/quantity.js';
import { tighteningOrder } from '../resolve/torque/sequence.js';
import { threadOf } from '../resolve/torque/threads.js';
import type { Joint, Stage } from '../schema/generated/compiled-job.js';
import type { Fastener } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import type { PlanStep } from '../plan/plan.js';
import { type JobContext, nameWithPlace } from './context.js';
import { compileEstimates } from './estimates.js';
import { quantityText } from './format.js';
import { sourceOf } from './sources.js';
import { compileStage, stageOfMethod, totalAngle } from './stages.js';
import { holderName, toolName } from './tools.js';

export interface StepTorque {
  readonly joint: string;
  readonly stages: readonly number[];
  /** How often it was tight and let go again until then. */
  readonly timesLetGo: number;
}

export interface CompiledJoints {
  readonly joints: Joint[];
  /** Which joints and stages each step works on. */
  readonly byStep: ReadonlyMap<PlanStep, readonly StepTorque[]>;
  readonly fasteners: ReadonlyMap<string, Fastener>;
  readonly keys: ReadonlyMap<string, JointKey>;
}

/** A joint with the steps that tighten it and the stages that they do. */
interface Draft {
  readonly key: JointKey;
  readonly fastener: Fastener;
  readonly code: string;
  readonly steps: PlanStep[];
  readonly stages: number[];
}

/** Every joint that the plan tightens, in order of use, with the tool and the setting of each stage. */
export function compileJoints(context: JobContext): CompiledJoints {
  const { plan, walk } = context;
  const drafts = new Map<string, Draft>();
  const byStep = new Map<PlanStep, StepTorque[]>();
  for (const { step, joint: key, stages, timesLetGo } of walk.tightened) {
    const { scope } = step.participant;
    const fastener = fastenerOf(scope, key, plan.facts);
    if (!fastener) continue;
    for (const variant of scope.fasteners.get(key.group)?.variants ?? []) pinned(context, variant.when, key.group);
    const code = `T-${String(drafts.size + 1).padStart(2, '0')}`;
    const draft = once(drafts, key.key, () => ({ key, fastener, code, steps: [], stages: [] }));
    const done = step.verb === 'tighten' && hasMethodAlone(fastener) ? [1] : stages;
    draft.steps.push(step);
    draft.stages.push(...done);
    once(byStep, step, () => []).push({ joint: draft.code, stages: done, timesLetGo });
  }
  const joints = [...drafts.values()].map((draft) => compileJoint(context, draft));
  return {
    joints,
    byStep,
    fasteners: new Map([...drafts.values()].map((draft) => [draft.code, draft.fastener])),
    keys: new Map([...drafts.values()].map((draft) => [draft.code, draft.key])),
  };
}

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

function compileJoint(context: JobContext, { fastener, key, code, steps, stages }: Draft): Joint {
  // Of a joint that stays tight no bolt is in the hand: none is new, used again or oiled.
  const isTurnedIn = steps.some(({ verb }) => verb === 'tighten');
  const count = fastener.count ?? 1;
  const scope = steps[0]?.participant.scope ?? context.plan.scope;
  const facing = (fastener.facing ?? context.vehicle.facing ?? '').split(',').map((word) => word.trim());
  const positions = (fastener.positions ?? []).length === count ? (fastener.positions ?? []) : [];
  const compiledStages = compileStages(context, code, fastener, count);
  return {
    code,
    group: key.group,
    part: key.part || null,
    name: nameWithPlace(context, scope, key.key),
    count,
    thread: threadOf(fastener),
    class: fastener.class ?? null,
    drive: fastener.drive ?? null,
    leftHand: fastener.hand === 'left',
    renew: isTurnedIn && fastener.reuse === 'never',
    reuse: (isTurnedIn && fastener.reuse) || null,
    threads: (isTurnedIn && fastener.threads) || null,
    counterHold: fastener['counter-hold'] ? holderName(context, fastener['counter-hold']) : null,
    adapter: fastener.adapter ? toolName(context, fastener.adapter) : null,
    boltByBolt: fastener.bolts === 'bolt by bolt',
    sequence: tighteningOrder(fastener.sequence, count, positions),
    positions: positions.map(([x, y]) => [x, y]),
    lengths: (fastener.lengths ?? []).length === count ? (fastener.lengths ?? []).map((length) => numberIn(length, 'mm')) : [],
    facing: positions.length > 0 && facing.length === 4 ? facing : ['', '', '', ''],
    stages: compiledStages,
    totalAngle: totalAngle(compiledStages),
    firstStage: stages.length > 0 ? Math.min(...stages) : 1,
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
