import type { Scope } from '../library/scope.js';
import type { Facts } from '../library/variants.js';
import type { Part } from '../schema/generated/types.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import { type Endangered, type GateView, isInTheWay, type Loose, missingAt, standingInTheWay } from './gates.js';
import { type Joint, jointsNamed } from './joints.js';
import { behindIt, inTheWayOf } from './covers.js';
import { closing, tightening } from './deeds.js';
import { Engine } from './engine.js';
import { type Line, type LineName, lineName, newLine } from './ledger.js';
import type { Problem, ShutIn } from './problem.js';
import { type AfterTheJob, type Fitted, type Tightened, Tightening } from './tightening.js';
import { openingPairs, type VerbName } from './verbs.js';

export interface Walk {
  readonly lines: readonly Line[];
  readonly problems: readonly Problem[];
  /** The joints of what is on and not tight for a while, and since when each is tight or its part off. */
  readonly fitted: readonly Fitted[];
  /** Every step that tightens something, with the joints and stages that it does. */
  readonly tightened: readonly Tightened[];
  /** What is still to be tightened again when the job is over. */
  readonly afterTheJob: readonly AfterTheJob[];
}

/**
 * The ledger, one step at a time. The planner asks it what stands in a step's way; the check walks it to the end.
 * It proves the written procedure, never the hand that ticks.
 */
export class Ledger {
  private readonly openLines = new Map<string, Line>();
  /** How many open lines say of each object that it is off. */
  private readonly offs = new Map<string, number>();
  private readonly all: Line[] = [];
  private readonly tightening: Tightening;
  private readonly problems: Problem[] = [];
  /** Covers that went on too early, as far as is known: what comes off again in time was on for a trial. */
  private tooEarly: readonly ShutIn[] = [];
  private readonly closedAt = new Map<string, PlanStep>();
  private readonly endangered = new Map<Line, PlanStep[]>();
  private readonly looseReported = new Set<string>();
  /** Lines that several documents open: that is told once, and what follows from it is not told again. */
  private readonly shared = new Set<string>();
  /** Lines that a step closed which waits for an outcome. */
  private readonly perhapsClosed = new Map<string, Line>();
  /** The line that a step had to wait for when it was asked about last: while it must, nothing else need be looked at. */
  private readonly waitsFor = new Map<PlanStep, Line>();
  private answered: { readonly step: PlanStep; readonly found: Endangered } | null = null;
  private readonly engine = new Engine();

  /**
   * @param facts the variant that is walked
   * @param removed parts that the plan takes off at some step: loosening their fasteners opens no line of its own
   */
  constructor(
    facts: Facts,
    private readonly removed: ReadonlySet<string>,
  ) {
    this.tightening = new Tightening(facts);
  }

  private isOpen = (object: string): boolean => (this.offs.get(object) ?? 0) > 0;

  private isIn = (temporary: string): boolean => this.openLines.has(lineName('place', temporary).key);

  private isRaised = (object: string): boolean => this.openLines.has(lineName('raise', object).key);

  private loose = (): readonly Loose[] => this.tightening.loose();

  private view = (): GateView => ({ open: this.openLines.values(), loose: this.loose, isOpen: this.isOpen, isRaised: this.isRaised });

  /** What stands in the way of a step. Who asks whether it may go mostly takes it next: until then the answer holds. */
  private obstacles(step: PlanStep): Endangered {
    if (this.answered?.step !== step) this.answered = { step, found: standingInTheWay(step, this.view()) };
    return this.answered.found;
  }

  /**
   * Whether a step may go now: nothing stands in its way that another step would still take away.
   * @param comes whether a step that is still to come, in another document, does this
   * @param own whether one of its own document does
   */
  isReady(step: PlanStep, comes: (deed: string) => boolean, own: (deed: string) => boolean): boolean {
    if (step.gate) {
      const last = this.waitsFor.get(step);
      if (last?.closed === null && comes(closing(last)) && isInTheWay(last, step, this.view())) return false;
      const { lines, loose } = this.obstacles(step);
      const waited = lines.find((line) => comes(closing(line)));
      if (waited) {
        this.waitsFor.set(step, waited);
        return false;
      }
      for (const { part } of loose) if (comes(tightening(part))) return false;
    }
    if (this.engine.holdsUp(step, comes, own)) return false;
    if (this.openLines.has(ignitionOff.key) && this.needsIgnition(step) && comes(closing(ignitionOff))) return false;
    if (step.moment === 'ground' && onlyInUse.has(step.verb) && this.isStillUp(comes)) return false;
    for (const object of step.objects) {
      const line = this.shutIn(step, object);
      if (line && comes(closing(line))) return false;
    }
    return true;
  }

  /** Whether something is raised that another document still lowers; not before a system is energised. */
  private isStillUp(comes: (deed: string) => boolean): boolean {
    let isUp = false;
    for (const line of this.openLines.values()) {
      if (line.pair === 'isolate') return false;
      if (line.pair === 'raise' && comes(closing(line))) isUp = true;
    }
    return isUp;
  }

  /**
   * Whether a step is done with the ignition on: what talks to control units, and what is looked at among what is done with it
   * on; not before a system is energised, as what is measured then is that it may be.
   */
  private needsIgnition({ verb, moment }: PlanStep): boolean {
    if (talksToControlUnits.has(verb)) return true;
    if (moment !== 'running' || !onlyInUse.has(verb)) return false;
    for (const { pair } of this.openLines.values()) if (pair === 'isolate') return false;
    return true;
  }

  private coveredBy(step: PlanStep, object: string): readonly string[] {
    if (!step.does.access) return noNames;
    const { parts } = step.participant.scope;
    const part = parts.get(object);
    return part?.behind || part?.['held-by'] ? this.stillOn(part, parts) : noNames;
  }

  /** What covers or holds a part and is not off. */
  private stillOn(part: Part, parts: Scope['parts']): readonly string[] {
    return inTheWayOf(part).filter((cover) => parts.has(cover) && !this.isOpen(cover));
  }

  /** A cover goes on while what lies behind it is still off. */
  private shutIn(step: PlanStep, object: string): Line | undefined {
    if (!shuts.has(step.verb)) return undefined;
    const behind = behindIt(step.participant.scope, object);
    if (!behind.some(this.isOpen)) return undefined;
    for (const line of this.openLines.values()) if (line.isOff && behind.includes(line.object)) return line;
    return undefined;
  }

  take(step: PlanStep): void {
    this.passGate(step);
    this.answered = null;
    let n = 0;
    for (const object of step.objects) {
      const line = step.lines[n++];
      const covers = this.coveredBy(step, object);
      if (covers.length > 0) this.problems.push({ kind: 'covered', step, object, by: covers });
      const shut = this.shutIn(step, object);
      if (shut) this.tooEarly = [...this.tooEarly, { kind: 'shut-in', step, object, line: shut }];
      if (step.verb === 'loosen') this.loosen(step, object);
      else if (step.verb === 'tighten') this.tighten(step, object);
      else if (step.verb === 're-torque') this.reTorque(step, object);
      else if (line && step.does.opens) this.openLine(step, line);
      else if (line) this.close(step, line);
    }
    const missed = this.engine.take(step);
    if (missed) this.problems.push({ kind: 'not-running', step, ...missed });
  }

  private passGate(step: PlanStep): void {
    if (!step.gate) return;
    for (const temporary of missingAt(step, this.isIn)) this.problems.push({ kind: 'not-in-place', step, temporary });
    const { lines, loose, mustBeOpen } = this.obstacles(step);
    for (const line of lines) once(this.endangered, line, () => []).push(step);
    for (const { part, fitted } of loose) {
      if (this.looseReported.has(part)) continue;
      this.looseReported.add(part);
      this.problems.push({ kind: 'loose-at-gate', gate: step, part, fitted });
    }
    const off = mustBeOpen === null ? '' : lineName('switch-off', mustBeOpen).key;
    if (mustBeOpen !== null && !this.openLines.has(off) && !this.shared.has(off)) {
      this.problems.push({ kind: 'interlock', gate: step, object: mustBeOpen, closed: this.closedAt.get(mustBeOpen) ?? null });
    }
  }

  private pieces(step: PlanStep, object: string): number | null {
    const { scope } = step.participant;
    return step.step.count ?? (step.verb === 'place' ? scope.temporaries.get(object)?.count : scope.parts.get(object)?.count) ?? null;
  }

  private openLine(step: PlanStep, name: LineName): void {
    const { key, pair, object } = name;
    const already = this.openLines.get(key);
    if (already) {
      // What should have been closed for a step before is told there.
      if (!this.endangered.has(already)) already.again.push(step);
      if (already.opened.participant !== step.participant) this.shared.add(key);
      return;
    }
    const line = newLine(name, step, this.pieces(step, object));
    this.openLines.set(key, line);
    if (line.isOff) this.offs.set(object, (this.offs.get(object) ?? 0) + 1);
    this.all.push(line);
    if (line.isOff && this.tooEarly.length > 0)
      this.tooEarly = this.tooEarly.filter((one) => one.object !== object || one.line.closed !== null);
    if (pair === 'remove') this.tightening.removed(step, object);
  }

  private close(step: PlanStep, { key, pair, object }: LineName): void {
    const line = this.openLines.get(key);
    if (!line) {
      if (this.closeInstead(key, step) || this.shared.has(key)) return;
      this.problems.push({ kind: 'never-opened', step, object, before: this.all.findLast((one) => one.key === key) ?? null });
      return;
    }
    const found = step.step.count;
    if (found !== undefined && line.count !== null && found !== line.count)
      this.problems.push({ kind: 'count', step, line, expected: line.count, found });
    this.tellAgain(line);
    this.shut(line, step);
    this.closedAt.set(object, step);
    if (openingPairs.has(pair)) this.tightening.fitted(step, object);
  }

  private tellAgain(line: Line): void {
    for (const again of line.again) this.problems.push({ kind: 'opened-twice', step: again, line });
  }

  /** Of several steps that close a line, each after another outcome, the last counts: until then it may be open. */
  private closeInstead(key: string, step: PlanStep): boolean {
    const line = step.conditional ? this.perhapsClosed.get(key) : undefined;
    if (!line?.closed) return false;
    line.closedBefore.push(line.closed);
    line.closed = step;
    return true;
  }

  private shut(line: Line, step: PlanStep): void {
    line.closed = step;
    if (step.conditional) this.perhapsClosed.set(line.key, line);
    this.openLines.delete(line.key);
    if (line.isOff) this.offs.set(line.object, (this.offs.get(line.object) ?? 1) - 1);
  }

  private loosen(step: PlanStep, object: string): void {
    for (const joint of jointsNamed(step.participant.scope, object)) {
      const comesOff = joint.part !== '' && this.removed.has(joint.part);
      this.tightening.loosened(step, joint, comesOff);
      if (!comesOff) this.openLine(step, joint.line);
    }
  }

  private tighten(step: PlanStep, object: string): void {
    const named = jointsNamed(step.participant.scope, object);
    this.reach(step, object, named);
    const meant = this.tightening.meant(named);
    for (const joint of meant) {
      const line = this.openLines.get(joint.line.key);
      if (!line) continue;
      this.tellAgain(line);
      this.shut(line, step);
      this.tightening.begun(step, joint);
    }
    this.tightening.tighten(step, meant, this.problems);
  }

  private reTorque(step: PlanStep, object: string): void {
    this.tightening.reTorque(step, this.tightening.meant(jointsNamed(step.participant.scope, object)), this.problems);
  }

  /** A wrench reaches past wheels and belts, and on the ground things are tightened that the axle hides in the air. */
  private reach(step: PlanStep, object: string, joints: readonly Joint[]): void {
    if (step.step.wheels === 'on-ground') return;
    const { parts } = step.participant.scope;
    for (const { part } of joints)
      for (const cover of parts.get(part)?.behind ?? noNames) {
        const fitted = this.closedAt.get(cover);
        const { role } = parts.get(cover) ?? {};
        if (!fitted || !shuts.has(fitted.verb) || this.isOpen(cover) || role === 'wheel' || role === 'belt') continue;
        this.problems.push({ kind: 'tightened-covered', step, object, part, cover, fitted });
        return;
      }
  }

  /** Ends the walk: what is still open, what was closed too late, what is still owed. */
  finish(): Walk {
    const late = new Map<PlanStep, Line[]>();
    for (const [line, gates] of this.endangered) {
      const first = gates[0];
      if (line.closed && first) once(late, first, () => []).push(line);
    }
    for (const [gate, lines] of late) this.problems.push({ kind: 'late', gate, lines });
    for (const line of this.openLines.values())
      if (staysChanged(line) === null) this.problems.push({ kind: 'left-open', line, gates: this.endangered.get(line) ?? [] });
    // What is never tightened is told once, where it was put on.
    const { never, later } = this.tightening.left();
    const neverTightened = new Set(never.flatMap((problem) => (problem.kind === 'owed' ? problem.joint.part : [])));
    // A cover that is never taken off is told once, where it is in the way; so is one that goes on too early.
    const inTheWay = new Set(this.problems.flatMap((problem) => (problem.kind === 'covered' ? problem.by : [])));
    const tooEarly = new Set(this.tooEarly.map(({ object }) => object));
    const problems = this.problems.filter((problem) => {
      switch (problem.kind) {
        case 'never-opened':
          return !inTheWay.has(problem.object);
        case 'loose-at-gate':
          return !neverTightened.has(problem.part);
        case 'tightened-again':
          // Several documents take the part off, and each puts it back.
          return !this.all.some(({ object, key }) => object === problem.joint.part && this.shared.has(key));
        case 'tightened-covered':
          return !inTheWay.has(problem.cover) && !tooEarly.has(problem.cover) && !this.looseReported.has(problem.part);
        default:
          return true;
      }
    });
    const { fittedJoints: fitted, tightened } = this.tightening;
    // What never goes back cannot be shut in; it is told once, as left open.
    const shutIn = this.tooEarly.filter(({ line }) => line.closed !== null);
    return { lines: this.all, problems: [...problems, ...shutIn, ...never], fitted, tightened, afterTheJob: later };
  }
}

const noNames: readonly string[] = [];
/** Why a line stays open on purpose; null where it must be closed. */
export const staysChanged = ({ opened, object }: Line): string | null =>
  opened.participant.document['left-changed']?.[object.split('@')[0] ?? object] ?? null;

/** What puts a cover over what lies behind it. */
const shuts: ReadonlySet<VerbName> = new Set(['fit', 'return', 'close']);

/** What needs the ignition on. */
const talksToControlUnits: ReadonlySet<string> = new Set(['read', 'erase', 'reset']);

/** What is seen of a system, or done to it, only as it is in use: with its current, on its wheels. */
const onlyInUse: ReadonlySet<string> = new Set(['check', 'test', 'measure', 'inspect', 'confirm', 'adjust', 'bleed']);

const ignitionOff = lineName('switch-off', 'ignition');

export function ledgerFor(steps: readonly PlanStep[], facts: Facts): Ledger {
  const removed = new Set(steps.filter((step) => step.verb === 'remove').flatMap((step) => step.objects));
  return new Ledger(facts, removed);
}
