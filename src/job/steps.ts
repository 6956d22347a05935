import { whereIs } from '../findings/finding.js';
import { didYouMean } from '../findings/suggest.js';
import { runningSince } from '../ledger/engine.js';
import { fastenerOf, jointsNamed } from '../ledger/joints.js';
import { notesAt } from '../ledger/gates.js';
import type { Line } from '../ledger/ledger.js';
import { safeToLeave } from '../ledger/safe.js';
import type { Fitted } from '../ledger/tightening.js';
import type { VerbName } from '../ledger/verbs.js';
import { asList, type Scope } from '../library/scope.js';
import { isLost } from '../library/written.js';
import { once } from '../once.js';
import { asWritten, isPouredBack, type PlanStep, poursBack } from '../plan/plan.js';
import { isTrial } from '../plan/trial.js';
import { parseQuantity } from '../quantity/quantity.js';
import type { Charge, Fluid, Step } from '../schema/generated/compiled-job.js';
import { isWritten, spanOf } from '../schema/origin.js';
import { sentence } from '../words/words.js';
import { type JobContext, nameOf, nameWithPlace } from './context.js';
import { levelText } from './fluids.js';
import { gradeName } from './item-names.js';
import { limitText, quantityText } from './format.js';
import type { CompiledJoints } from './joints.js';
import { holderName, toolName } from './tools.js';
import type { CompiledParts } from './parts.js';
import { timesOf } from './times.js';

const signals = { danger: 'DANGER', warning: 'WARNING', caution: 'CAUTION', notice: 'NOTICE' } as const;

/** What of a job its steps tell of. */
interface Figures {
  readonly joints: CompiledJoints;
  readonly parts: CompiledParts;
  /** Codes by name. */
  readonly measured: ReadonlyMap<string, string>;
  readonly choices: ReadonlyMap<string, string>;
  readonly fluids: readonly Fluid[];
  readonly charges: readonly Charge[];
}

/** The merged steps in words, each with what it opens and closes, takes and leaves. */
export function compileSteps(context: JobContext, figures: Figures): Step[] {
  const steps = stepsInWords(context, figures);
  const times = timesOf(steps, figures.fluids, figures.charges);
  return steps.map((step, n) => ({ ...step, times: times[n] ?? {} }));
}

function stepsInWords(context: JobContext, { joints, parts, measured, choices }: Figures): Omit<Step, 'times'>[] {
  let holds = 0;
  let authorities = 0;
  const running = runningSince(context.plan.steps);
  const openedAt = new Map<PlanStep, Line[]>();
  const closedAt = new Map<PlanStep, Line[]>();
  for (const one of context.walk.lines) {
    for (const step of [one.opened, ...one.again]) once(openedAt, step, () => []).push(one);
    for (const step of [...one.closedBefore, ...(one.closed ? [one.closed] : [])]) once(closedAt, step, () => []).push(one);
  }
  const open = new Set<Line>();
  const looseAfter = spansOf(context.walk.fitted);
  return context.plan.steps.map((planned, index) => {
    const { step, verb, participant } = planned;
    const { scope } = participant;
    const opened = openedAt.get(planned) ?? [];
    const closed = closedAt.get(planned) ?? [];
    for (const one of opened) open.add(one);
    for (const one of closed) if (one.closed === planned) open.delete(one);
    const loose = looseAfter(planned);
    const line = (one: Line, partner: PlanStep | null) => ({
      name: nameWithPlace(context, scope, one.object),
      partner: partner ? context.numberOf(partner) : null,
    });
    return {
      n: index + 1,
      id: step.id ?? null,
      document: participant.document.id,
      section: planned.section,
      moment: planned.moment,
      verb,
      objects: planned.objects.map((id) => ({ id, name: nameOf(context, scope, asWritten(planned, id)) })),
      sentence: sentenceOf(context, planned, running[index] ?? null),
      says: step.says ?? null,
      fits: goesOn.has(verb) ? planned.objects.flatMap((id) => wayOf(context, scope, id)) : [],
      ...undoing(context, planned),
      levels: verb === 'check' ? planned.objects.flatMap((id) => levelOf(context, scope, id)) : [],
      masses: isLifted.has(verb) ? planned.objects.flatMap((id) => massOf(context, scope, id)) : [],
      notes: [...notesAt(context.vehicle, planned)],
      why: step.why ?? null,
      where: step.where ?? null,
      figure: step.figure ?? null,
      cautions: Object.entries(signals).flatMap(([key, signal]) => {
        const text = step[key as keyof typeof signals];
        return text ? [{ signal, text }] : [];
      }),
      wear: [...(step.wear ?? [])],
      people: step.people ?? 1,
      with: (step.with ?? []).map((id) => ({ id, name: toolName(context, id) })),
      loosening: looseningOf(joints, planned),
      agent: step.agent ? agentName(context, step.agent) : null,
      opens: opened.map((one) => line(one, one.closed)),
      closes: closed.map((one) => line(one, one.opened)),
      torque: (joints.byStep.get(planned) ?? []).map((one) => ({ joint: one.joint, stages: [...one.stages] })),
      measurements: verb === 'measure' ? planned.objects.flatMap((id) => measured.get(id) ?? []) : [],
      choice: verb === 'choose' ? (choices.get(planned.objects[0] ?? '') ?? null) : null,
      fluid: verb === 'drain' || verb === 'fill' ? (planned.objects[0] ?? null) : null,
      parts: [...(parts.byStep.get(planned) ?? [])],
      unattended: step.unattended ? quantityText(step.unattended, context.words) : null,
      into: step.into ? quantityText(step.into, context.words) : vesselOf(context, planned),
      until: step.until ?? null,
      at: step.at ? limitText(step.at, context.words) : null,
      onGround: step.wheels === 'on-ground',
      onlyIf: planned.conditional ? conditionWords(context, planned) : null,
      when:
        planned.conditional?.map((way) =>
          Object.fromEntries(Object.entries(way).map(([name, value]) => [measured.get(name) ?? choices.get(name) ?? name, [value].flat()])),
        ) ?? null,
      secondPerson: step['second-person'] ? { code: `H-${String(++holds).padStart(2, '0')}`, look: step['second-person'] } : null,
      authority: step.authority ? { code: `A-${String(++authorities).padStart(2, '0')}`, why: step.authority } : null,
      trial: isTrial(context.plan, planned),
      pouredBack: poursBack(planned),
      qualification: step.qualification ?? null,
      sublet: step.for ? step.for.replaceAll('-', ' ') : null,
      openAfter: open.size,
      looseAfter: loose.size,
      runsSince: running[index] ? context.numberOf(running[index]) : null,
      safeToLeave: safeToLeave(
        [...open],
        [...loose].map(({ joint }) => joint.part),
        context.plan.scope,
        running[index] !== null,
      ),
      origin: whereIs(spanOf(step)),
    };
  });
}

/** What goes on may go on in more than one way. */
const goesOn: ReadonlySet<VerbName> = new Set<VerbName>(['fit', 'renew', 'connect', 'close']);

function wayOf(context: JobContext, scope: Scope, id: string): { name: string; way: string }[] {
  const way = scope.parts.get(id)?.fits;
  return way === undefined ? [] : [{ name: nameOf(context, scope, id), way }];
}

/** Somebody has the weight of it in his hands. */
const isLifted: ReadonlySet<VerbName> = new Set<VerbName>(['remove', 'fit', 'move-aside', 'return']);

const undoes: ReadonlySet<VerbName> = new Set<VerbName>(['remove', 'disconnect', 'open', 'loosen', 'renew']);

/** What whoever undoes joints must know of them: a thread that is turned the wrong way is torn off, what turns with its bolt too. */
function undoing(context: JobContext, { verb, objects, participant: { scope } }: PlanStep): Pick<Step, 'leftHand' | 'counterHold'> {
  const leftHand: string[] = [];
  const held = new Set<string>();
  for (const joint of undoes.has(verb) ? objects.flatMap((id) => jointsNamed(scope, id)) : []) {
    const { hand, 'counter-hold': hold } = fastenerOf(scope, joint, context.plan.facts) ?? {};
    if (hand === 'left') leftHand.push(nameWithPlace(context, scope, joint.key));
    if (hold !== undefined) held.add(holderName(context, hold));
  }
  return { leftHand, counterHold: [...held] };
}

function levelOf(context: JobContext, scope: Scope, id: string): { name: string; says: string }[] {
  const level = scope.fluids.get(id)?.level;
  return level === undefined ? [] : [{ name: nameOf(context, scope, id), says: levelText(level, context.words) }];
}

function massOf(context: JobContext, scope: Scope, id: string): { name: string; mass: string }[] {
  const mass = scope.parts.get(id)?.mass;
  return mass === undefined ? [] : [{ name: nameOf(context, scope, id), mass: quantityText(mass, context.words) }];
}

/** Of joints that are loose for a while: asked of each step in turn, those that are when it is done. */
function spansOf(joints: readonly Fitted[]): (step: PlanStep) => ReadonlySet<Fitted> {
  const from = new Map<PlanStep, Fitted[]>();
  const until = new Map<PlanStep, Fitted[]>();
  for (const one of joints) {
    once(from, one.fitted, () => []).push(one);
    if (one.tight) once(until, one.tight, () => []).push(one);
  }
  const now = new Set<Fitted>();
  return (step) => {
    for (const one of from.get(step) ?? []) now.add(one);
    for (const one of until.get(step) ?? []) now.delete(one);
    return now;
  };
}

/** Order and passes of loosening, and by which codes the same joints stand on the sheet when they are tightened again. */
function looseningOf({ keys }: CompiledJoints, { verb, step, objects, participant }: PlanStep): Step['loosening'] {
  if (verb !== 'loosen' || (step.order === undefined && step.passes === undefined)) return null;
  const loose = new Set(objects.flatMap((object) => jointsNamed(participant.scope, object).map((joint) => joint.key)));
  const joints = [...keys].flatMap(([code, { key }]) => (loose.has(key) ? [code] : []));
  return { order: step.order ?? null, passes: step.passes ?? null, joints };
}

const agentName = ({ words }: JobContext, agent: string): string => words.agents[agent] ?? agent;

/** @param running the step since which the engine runs, this step done */
function sentenceOf(context: JobContext, planned: PlanStep, running: PlanStep | null): string {
  const { scope } = planned.participant;
  if (planned.verb === 'wait') {
    const [what = ''] = planned.objects;
    return sentence(context.words, 'wait', [waitFor(context, what)]);
  }
  const names = planned.objects.map((id) => {
    const name = nameOf(context, scope, asWritten(planned, id));
    const count = planned.step.count ?? scope.temporaries.get(id)?.count ?? scope.parts.get(id)?.count;
    return count && count > 1 && !scope.measurements.has(id) ? `${name} (${count})` : name;
  });
  // Each document starts the engine that it needs: what runs is not cranked again.
  if (planned.verb === 'start' && running && running !== planned && planned.objects.every((one) => running.objects.includes(one)))
    return context.words.job.runsAlready(context.words.list(names), context.numberOf(running));
  const isLevel = planned.verb === 'check' && planned.objects.some((id) => scope.fluids.has(id));
  const { agent } = planned.step;
  const isCalculated = planned.verb === 'measure' && planned.objects.every((id) => scope.measurements.get(id)?.calculated);
  const words = isLevel
    ? context.words.job.level(context.words.list(names))
    : isCalculated
      ? context.words.job.calculate(context.words.list(names))
      : planned.verb === 'apply' && agent
        ? context.words.job.apply(agentName(context, agent), context.words.list(names))
        : sentence(context.words, planned.verb, names);
  // How far the order says, at the road test that ends the job.
  const distance = planned.verb === 'drive' ? context.job['road-test'] : undefined;
  if (distance && context.plan.steps.findLast((step) => step.verb === 'drive') === planned)
    return `${words}, ${quantityText(distance, context.words)}`;
  return planned.step.for ? context.words.job.forWork(words, planned.step.for.replaceAll('-', ' ')) : words;
}

/** A time, or the name of a waiting time of the vehicle. */
function waitFor(context: JobContext, what: string): string {
  const known = context.vehicle.waits?.[what];
  if (known) return `${quantityText(known, context.words)} (${nameOf(context, context.plan.scope, what)})`;
  const written = parseQuantity(what, 'time');
  return written.ok ? quantityText(written.quantity, context.words) : what.replaceAll('-', ' ');
}

/** A waiting time that the vehicle does not have; there is no default for those. */
export function checkWaits(context: JobContext): void {
  const { vehicle, plan } = context;
  for (const { verb, step, objects } of plan.steps) {
    const [what = ''] = verb === 'wait' ? objects : [];
    if (verb !== 'wait' || vehicle.waits?.[what] || parseQuantity(what, 'time').ok) continue;
    if (isWritten(vehicle.waits, what) || isLost(vehicle, 'waits')) continue;
    context.report(
      'reference/unknown-wait',
      `The profile of \`${vehicle.id}\` has no waiting time \`${what}\`.${didYouMean(what, Object.keys(vehicle.waits ?? {}))} Add it there (\`waits: { ${what}: … }\`) from the maker's information; there is no default for it.`,
      spanOf(step, 'wait'),
    );
  }
}

function vesselOf(context: JobContext, planned: PlanStep): string | null {
  const [fluid = ''] = planned.objects;
  if (planned.verb !== 'drain' || isPouredBack(context.plan, fluid)) return null;
  const waste = context.plan.scope.fluids.get(fluid)?.waste;
  const vessel = waste ? context.shop.waste?.[waste]?.vessel : undefined;
  return vessel ? quantityText(vessel, context.words) : null;
}

function conditionWords(context: JobContext, planned: PlanStep): string {
  const { scope } = context.plan;
  const outcome = (name: string, value: string): string => {
    if (scope.measurements.has(name)) return context.words.outcome[value] ?? value;
    const row = scope.choices.get(name)?.table.find(({ gives }) => gives === value);
    return row ? gradeName(context, scope, row) : nameOf(context, scope, value);
  };
  const known = (name: string): string => {
    const value = Object.hasOwn(context.settled, name) ? context.settled[name] : undefined;
    return value === undefined ? '' : ` (${context.words.beforeJob(outcome(name, value))})`;
  };
  const ways = (planned.conditional ?? []).map((way) =>
    Object.entries(way)
      .map(([name, wanted]) => {
        const outcomes = asList(wanted).map((value) => outcome(name, value));
        return `${nameOf(context, scope, name)} ${context.words.either(outcomes)}${known(name)}`;
      })
      .join(` ${context.words.and} `),
  );
  return context.words.either(ways);
}
