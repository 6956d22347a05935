import type { VehicleDocument } from '../library/document.js';
import { asList, type Scope } from '../library/scope.js';
import type { Part, Step } from '../schema/generated/types.js';
import type { PlanStep } from '../plan/plan.js';
import { jointsNamed } from './joints.js';
import type { Line } from './ledger.js';
import { isVerb, type VerbName } from './verbs.js';
import { once } from '../once.js';

/**
 * The gates: what must be closed before an action. One row an action; a profile adds to it with `due-before:`, and takes
 * from it with `may-stay:`.
 * `open` lines are those still open at the step, `owed` the parts that are on but not tightened.
 */
interface Gate {
  /** Whether an open line forbids the action on this object. */
  readonly forbids: (line: Line, part: Part | undefined, object: string, isRaised: GateView['isRaised']) => boolean;
  /** Whether a part that is on but not tightened forbids it. */
  readonly loose: (part: Part | undefined, object: string, onGround: boolean) => boolean;
}

const inCircuit = (part: Part | undefined, fluid: string): boolean => asList(part?.circuit).includes(fluid);
const anyCircuit = (part: Part | undefined): boolean => asList(part?.circuit).length > 0;
const carries = (part: Part | undefined, object: string): boolean => asList(part?.carries).includes(object);
const ignition = 'ignition';
const highVoltage = 'high-voltage';
/** Sent out whole, it leaves the bay as when it is driven. */
const vehicle = 'vehicle';
const everything: Gate = { forbids: () => true, loose: () => true };
const nothing: Gate = { forbids: () => false, loose: () => false };

/**
 * What is left in, locked, compressed, isolated or held by a jack; of what is switched off only the ignition. What stands on
 * stands does so whether the engine turns or not.
 */
const isLeftSo = (line: Line, isRaised: GateView['isRaised']): boolean => {
  if (line.pair === 'switch-off') return line.object === ignition;
  if (line.pair === 'support') return !isRaised(line.object);
  return line.kind === 'temporary';
};

const turningOver: Gate = {
  forbids: (line, part, _object, isRaised) =>
    isLeftSo(line, isRaised) || line.pair === 'drain' || part?.role === 'battery' || part?.role === 'belt' || anyCircuit(part),
  loose: (part) => part?.role === 'battery' || part?.role === 'belt' || anyCircuit(part),
};

const inItButFillPoint = (part: Part | undefined, fluid: string): boolean => inCircuit(part, fluid) && part?.role !== 'fill-point';

/** A fluid is poured into its fill point, and a tester sits there. */
const shutButForTheFillPoint: Gate = { forbids: (_line, part, fluid) => inItButFillPoint(part, fluid), loose: inItButFillPoint };

const gates: Partial<Record<VerbName, Gate>> = {
  turn: nothing,
  crank: turningOver,
  start: turningOver,
  fill: shutButForTheFillPoint,
  test: shutButForTheFillPoint,
  pressurise: {
    forbids: (line, part, fluid) => inCircuit(part, fluid) || (line.pair === 'drain' && line.object === fluid),
    loose: inCircuit,
  },
  lower: { forbids: (line, part) => line.pair === 'support' || part?.role === 'wheel', loose: () => false },
  // What is tightened on the ground carries by its shank until then.
  unsupport: {
    forbids: (_line, part, object) => carries(part, object),
    loose: (part, object, onGround) => !onGround && carries(part, object),
  },
  energise: {
    forbids: (line, part, energy) => line.pair === 'lock' || line.pair === 'place' || (line.isOff && part?.hazard === energy),
    loose: (part, energy) => part?.hazard === energy,
  },
  connect: nothing,
  send: { forbids: (_line, _part, object) => object === vehicle, loose: (_part, object) => object === vehicle },
  drive: everything,
  'hand-over': everything,
};

/** Lines that this very step closes do not stand in its way. */
const closesItself = (line: Line, step: PlanStep): boolean =>
  (step.verb === 'fill' && line.pair === 'drain' && step.objects.includes(line.object)) ||
  (step.verb === 'lower' && line.pair === 'raise') ||
  (step.verb === 'energise' && line.pair === 'isolate' && step.objects.includes(line.object)) ||
  (step.verb === 'tighten' &&
    line.pair === 'loosen' &&
    step.objects.some((one) => jointsNamed(step.participant.scope, one).some((joint) => joint.line.key === line.key)));

/** To start an engine is to crank it, and to crank it is to turn it. */
const turning: readonly VerbName[] = ['turn', 'crank', 'start'];

/** Whether who does the one does the other. */
const isPartOf = (verb: VerbName, whole: VerbName): boolean =>
  verb === whole || (turning.includes(verb) && turning.indexOf(verb) <= turning.indexOf(whole));

/** A gate as a profile names it: a verb of a step, and its object where it matters. */
interface Named {
  readonly verb: VerbName;
  readonly object: string | undefined;
}

const noNames: readonly string[] = [];
const gatesNamed = new WeakMap<readonly string[], readonly Named[]>();

/** The gates of a list of a profile; what is none is told by a rule. */
const namesIn = (list: readonly string[]): readonly Named[] =>
  once(gatesNamed, list, () =>
    list.flatMap((name) => {
      const [verb = '', object, ...more] = name.trim().split(/\s+/);
      return isVerb(verb) && more.length === 0 ? [{ verb, object }] : [];
    }),
  );

/** Whether a step is done to what a gate names: of what is tightened, the joint or the part that it holds. */
function isOf({ object }: Named, { verb, objects, participant }: PlanStep): boolean {
  if (object === undefined || objects.includes(object)) return true;
  if (verb !== 'tighten') return false;
  return objects.some((one) => jointsNamed(participant.scope, one).some(({ group, part }) => group === object || part === object));
}

/** What a vehicle asks for at a step: its notes whose name (`raise vehicle`, `start`) has the verb, and the object where one is named. */
export const notesAt = ({ notes = {} }: Pick<VehicleDocument, 'notes'>, step: PlanStep): readonly string[] =>
  Object.entries(notes).flatMap(([name, note]) =>
    namesIn([name]).some((named) => named.verb === step.verb && isOf(named, step)) ? [note] : [],
  );

interface Needed extends Named {
  readonly temporary: string;
}

const needed = new WeakMap<object, ReadonlyMap<VerbName, readonly Needed[]>>();
const nothingNeeded: readonly Needed[] = [];

/** What a profile says must be in for steps of a verb. */
const neededAt = (scope: Scope, verb: VerbName): readonly Needed[] =>
  once(needed, scope.things, () => {
    const byVerb = new Map<VerbName, Needed[]>();
    for (const [temporary, one] of scope.temporaries)
      for (const named of namesIn(one['needed-for'] ?? noNames)) once(byVerb, named.verb, () => []).push({ ...named, temporary });
    return byVerb;
  }).get(verb) ?? nothingNeeded;

/** The temporary things that must be in when a step is done (`needed-for:`), and are not. */
export function missingAt(step: PlanStep, isIn: (temporary: string) => boolean): readonly string[] {
  const all = neededAt(step.participant.scope, step.verb);
  if (all.length === 0) return noNames;
  return all.filter((one) => isOf(one, step) && !isIn(one.temporary)).map(({ temporary }) => temporary);
}

/** A part that is on, with tightening still owed. */
export interface Loose {
  readonly part: string;
  readonly fitted: PlanStep;
  /** Whether what is left to do needs the vehicle on its wheels. */
  readonly onGround: boolean;
}

export interface GateView {
  readonly open: Iterable<Line>;
  readonly loose: () => Iterable<Loose>;
  readonly isOpen: (object: string) => boolean;
  readonly isRaised: (object: string) => boolean;
}

export interface Endangered {
  readonly lines: readonly Line[];
  readonly loose: readonly Loose[];
  /** An interlock that must be open and is not: the ignition, when the battery is connected. */
  readonly mustBeOpen: string | null;
}

/** Whether a step is a gate by the table. */
export const isGateByTable = ({ does, objects }: PlanStep): boolean =>
  does.gate === true || (does.whole !== undefined && objects.includes(does.whole));

/** The verbs that profiles name as gates of their own. */
const namedGates = new WeakMap<object, ReadonlySet<string>>();

/** Whether a step is a gate, by the table or by a profile: something must be closed for it, or in. */
export function isGate(scope: Scope, step: Step, verb: VerbName): boolean {
  if (gates[verb] || step.wheels === 'on-ground') return true;
  const named = once(namedGates, scope.things, () => {
    const all = [...scope.parts.values(), ...scope.temporaries.values()].flatMap((one) => namesIn(one['due-before'] ?? noNames));
    return new Set(all.map((one) => one.verb));
  });
  return named.has(verb) || neededAt(scope, verb).length > 0;
}

/** Whether the profile says that this must be closed before such a step. */
export function isDueBefore({ part, temporary }: Line, step: PlanStep): boolean {
  const due = (temporary ?? part)?.['due-before'];
  if (due) for (const named of namesIn(due)) if (isPartOf(named.verb, step.verb) && isOf(named, step)) return true;
  return false;
}

/** Whether the profile says that this may stay as it is at such a step. */
function mayStay({ kind, pair, part, temporary }: Line, step: PlanStep): boolean {
  const stays = kind === 'temporary' || pair === 'open' ? (temporary ?? part)?.['may-stay'] : undefined;
  if (stays) for (const named of namesIn(stays)) if (isPartOf(step.verb, named.verb) && isOf(named, step)) return true;
  return false;
}

/** Whether an open line stands in the way of a step, by the table or by the profile. */
function stands(line: Line, step: PlanStep, gate: Gate | undefined, { isOpen, isRaised }: GateView): boolean {
  const onGround = step.step.wheels === 'on-ground';
  const byTable = onGround || (gate !== undefined && gate !== nothing);
  const { part, temporary } = line;
  if (!byTable && !(temporary ?? part)?.['due-before']) return false;
  if (closesItself(line, step)) return false;
  const engineOnly = temporary?.['while-fitted'];
  if (engineOnly && isOpen(engineOnly) && turning.includes(step.verb)) return false;
  if (isDueBefore(line, step)) return true;
  if (mayStay(line, step)) return false;
  if (onGround && (line.pair === 'raise' || part?.role === 'wheel')) return true;
  if (gate) for (const object of step.objects) if (gate.forbids(line, part, object, isRaised)) return true;
  return false;
}

/** Whether an open line stands in the way of a step. */
export const isInTheWay = (line: Line, step: PlanStep, view: GateView): boolean => stands(line, step, gates[step.verb], view);

/** Whether a part that is on but not tightened forbids a step. */
function isLooseFor({ part: id, onGround }: Loose, step: PlanStep, gate: Gate): boolean {
  const part = step.participant.scope.parts.get(id);
  for (const object of step.objects) if (gate.loose(part, object, onGround)) return true;
  return false;
}

/** What stands in the way of a step. Without closures: it is asked again and again for each step that waits. */
export function standingInTheWay(step: PlanStep, view: GateView): Endangered {
  const gate = gates[step.verb];
  const found: { lines: Line[]; loose: Loose[]; mustBeOpen: string | null } = { lines: [], loose: [], mustBeOpen: null };
  for (const line of view.open) if (stands(line, step, gate, view)) found.lines.push(line);
  if (gate) for (const one of view.loose()) if (isLooseFor(one, step, gate)) found.loose.push(one);
  const { parts } = step.participant.scope;
  const connects = step.verb === 'connect' && step.objects.some((object) => parts.get(object)?.role === 'battery');
  if (connects || (step.verb === 'energise' && step.objects.includes(highVoltage))) found.mustBeOpen = ignition;
  return found;
}
