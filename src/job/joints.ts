import { fastenerOf, type Joint as JointKey, jointsNamed, stagesLater, stagesOfStep } from '../ledger/joints.js';
import { asList, spoken } from '../library/scope.js';
import { holds } from '../library/variants.js';
import { inUnit, limitsIn, numberIn, nominalOf } from '../quantity/quantity.js';
import { convert, unitOf } from '../quantity/units.js';
import { loadRatio } from '../resolve/torque/plausibility.js';
import { tighteningOrder } from '../resolve/torque/sequence.js';
import { chooseWrench, deviationOf, type Tool } from '../resolve/torque/wrench.js';
import type { Joint, Stage } from '../schema/generated/compiled-job.js';
import type { Fastener, Stage as RawStage } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import { whereIs } from '../findings/finding.js';
import type { PlanStep } from '../plan/plan.js';
import type { JobContext } from './context.js';
import { bothTorques, limitText, quantityText, toleranceText, torqueNumber } from './format.js';

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
      const stages =
        step.verb === 're-torque'
          ? stagesLater(fastener).filter((n) => fastener.stages?.[n - 1]?.after !== 'distance')
          : stagesOfStep(fastener, step.step);
      byStep.set(step, [...(byStep.get(step) ?? []), { joint: draft.code, stages }]);
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

const isTouched = (steps: readonly PlanStep[], part: string): boolean =>
  steps.some((step) => (step.verb === 'fit' || step.verb === 'close' || step.verb === 'connect') && step.objects.includes(part));

/** A variant that nobody has told apart at the vehicle stops paper: a torque must not be guessed. */
export function pinned(context: JobContext, when: Record<string, string | string[]>, what: string): void {
  if (holds(when, context.plan.facts) !== 'unknown') return;
  for (const name of Object.keys(when)) {
    const feature = context.vehicle.features?.[name];
    if (!feature || Object.hasOwn(context.plan.facts, name)) continue;
    const span = context.job.features ? spanOf(context.job, 'features', 'key') : spanOf(context.job, 'vehicle', 'key');
    context.report(
      'variant/not-pinned',
      `\`${what}\` depends on \`${name}\` (${feature.values.join(' or ')}), and this job does not say which it is. Look at the vehicle: ${feature.tell} Then write \`features: { ${name}: { is: "…", by: … } }\`.`,
      span,
    );
  }
}

function compileJoint(context: JobContext, draft: { key: JointKey; fastener: Fastener; steps: PlanStep[]; code: string }): Joint {
  const { fastener, key, code, steps } = draft;
  const count = fastener.count ?? 1;
  const scope = steps[0]?.participant.scope ?? context.plan.scope;
  const facing = (fastener.facing ?? context.vehicle.facing ?? '').split(',').map((word) => word.trim());
  const positions = (fastener.positions ?? []).length === count ? (fastener.positions ?? []) : [];
  const ratio = loadRatio(fastener);
  if (ratio !== null) {
    const torque = Math.max(...(fastener.stages ?? []).flatMap((stage) => (stage.torque ? [numberIn(stage.torque, 'N·m')] : [])));
    context.working({
      of: `joints/${code}/ratio`,
      formula: 'r = T / (0.16 · d · A_s · S_p), an estimate; the maker’s figure stands',
      inputs: [
        { name: 'T', value: `${torque.toFixed(1)} N·m`, from: whereIs(spanOf(fastener, 'stages', 'key')) },
        { name: 'd, A_s', value: fastener.thread ?? '', from: 'ISO 724, ISO 898-1 9.1.6.1' },
        { name: 'S_p', value: fastener.class ?? '', from: 'ISO 898-1:2013 table 3, SAE J429' },
      ],
      result: ratio.toFixed(2),
      rounding: 'two places',
    });
  }
  return {
    code,
    group: key.group,
    part: key.part || null,
    name:
      key.part && asList(scope.parts.get(key.part)?.fasteners).length > 0 && isShared(context, key.group)
        ? `${spoken(scope, key.group)}, ${spoken(scope, key.part)}`
        : spoken(scope, key.group),
    count,
    thread: fastener.thread ?? null,
    class: fastener.class ?? null,
    drive: fastener.drive ?? null,
    leftHand: fastener.hand === 'left',
    renew: fastener.reuse === 'never',
    reuse: fastener.reuse ?? null,
    threads: fastener.threads ?? null,
    counterHold: fastener['counter-hold'] ? toolName(context, fastener['counter-hold']) : null,
    adapter: fastener.adapter ? toolName(context, fastener.adapter) : null,
    boltByBolt: fastener.bolts === 'bolt by bolt',
    sequence: tighteningOrder(fastener.sequence, count, positions),
    positions: positions.map(([x, y]) => [x, y]),
    facing: positions.length > 0 && facing.length === 4 ? facing : ['', '', '', ''],
    stages: (fastener.stages ?? []).map((stage, index) => compileStage(context, code, fastener, stage, index + 1, count)),
    ratio: ratio === null ? null : Math.round(ratio * 100) / 100,
    discardIf: fastener['discard-if'] ?? null,
    steps: [...new Set(steps)].map(context.numberOf),
    source: fastener.source
      ? { document: fastener.source.document, section: fastener.source.section ?? null, edition: fastener.source.edition ?? null }
      : null,
  };
}

const isShared = (context: JobContext, group: string): boolean =>
  [...context.plan.scope.parts.values()].filter((part) => asList(part.fasteners).includes(group)).length > 1;

export const toolName = (context: JobContext, id: string): string => context.shop.tools?.[id]?.name ?? id.replaceAll('-', ' ');

function compileStage(context: JobContext, code: string, fastener: Fastener, stage: RawStage, n: number, count: number): Stage {
  const common = {
    n,
    tolerance: null,
    tool: null,
    setting: null,
    other: null,
    boxes: stage.wait ? 0 : count,
    after: stage.after ?? null,
    distance: stage.distance ? quantityText(stage.distance) : null,
    onGround: stage.wheels === 'on-ground',
    at: stage.at ? limitText(stage.at) : null,
  };
  if (stage.torque) {
    const unit = context.shop['torque-unit'] ?? 'N·m';
    const { value, other } = bothTorques(stage.torque, unit);
    const chosen = wrenchFor(context, code, fastener, stage, n);
    return { ...common, kind: 'torque', value, other, written: stage.torque.text, tolerance: toleranceText(stage.torque, unit), ...chosen };
  }
  if (stage.angle) {
    const gauge = Object.entries(context.shop.tools ?? {}).find(([, tool]) => tool.type === 'angle-gauge');
    const degrees = nominalOf(stage.angle);
    const turn = degrees.mod(90).isZero() ? `${['', '¼', '½', '¾', '1'][degrees.div(90).toNumber()] ?? ''} turn` : null;
    return {
      ...common,
      kind: 'angle',
      value: `${degrees}°`,
      other: turn && turn !== ' turn' ? turn : null,
      written: stage.angle.text,
      tool: gauge?.[0] ?? 'paint mark',
    };
  }
  if (stage['back-off'])
    return { ...common, kind: 'back-off', value: `${nominalOf(stage['back-off'])}° back`, written: stage['back-off'].text };
  if (stage.wait) return { ...common, kind: 'wait', value: quantityText(stage.wait), written: stage.wait.text };
  const turns = stage['by-hand'] ?? 0;
  return { ...common, kind: 'by-hand', value: `${turns} turns by hand`, written: `${turns}` };
}

function wrenchFor(
  context: JobContext,
  code: string,
  fastener: Fastener,
  stage: RawStage,
  n: number,
): { tool: string | null; setting: string | null } {
  if (!stage.torque) return { tool: null, setting: null };
  const tools: Readonly<Record<string, Tool>> = context.shop.tools ?? {};
  const choice = chooseWrench(stage.torque, tools, fastener.adapter, context.job.date);
  const span = spanOf(stage, 'torque');
  if (!choice.ok) {
    context.report('tool/no-wrench', `No torque wrench of the shop can be used for ${stage.torque.text}: ${choice.why}`, span);
    return { tool: null, setting: null };
  }
  const { wrench } = choice;
  const target = inUnit(stage.torque, 'N·m');
  const limits = limitsIn(stage.torque, 'N·m');
  const tolerance = limits.low && limits.high ? limits.high.minus(limits.low).div(2).div(target).times(100).toNumber() : 10;
  const deviation = deviationOf(wrench.tool);
  if (deviation > tolerance + 1e-9) {
    context.report(
      'tool/too-coarse',
      `${wrench.id} may be off by ±${deviation} %, but ${stage.torque.text} allows only ±${tolerance.toFixed(1)} %. A tool with a better certificate is needed (deviation: in shop.yaml).`,
      span,
      'warning',
    );
  }
  const shopUnit = unitOf(context.shop['torque-unit'] ?? 'N·m');
  if (wrench.setting.eq(target)) return { tool: wrench.id, setting: null };
  const shown = `${torqueNumber(convert(wrench.setting, unitOf('N·m'), shopUnit))} ${shopUnit.symbol}`;
  const adapter = tools[fastener.adapter ?? ''];
  context.working({
    of: `joints/${code}/stages/${n}/setting`,
    formula: 'S = T · L / (L + E · cos φ)',
    inputs: [
      { name: 'T', value: stage.torque.text, from: whereIs(span) },
      { name: 'L', value: wrench.tool.length?.text ?? '', from: `${whereIs(spanOf(wrench.tool, 'length'))}, ${wrench.id}` },
      {
        name: 'E, φ',
        value: `${adapter?.offset?.text ?? ''}, ${adapter?.angle?.text ?? '0 deg'}`,
        from: adapter ? whereIs(spanOf(adapter, 'offset')) : '',
      },
    ],
    result: shown,
    rounding: 'two places',
  });
  return { tool: wrench.id, setting: shown };
}

/** Distance re-torques that fall after the job. */
export const distanceStages = (fastener: Fastener): RawStage[] => (fastener.stages ?? []).filter((stage) => stage.after === 'distance');
