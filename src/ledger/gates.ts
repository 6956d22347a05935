import { asList, type Scope } from '../library/scope.js';
import type { Part, Step } from '../schema/generated/types.js';
import type { PlanStep } from '../plan/plan.js';
import type { Line } from './ledger.js';
import type { VerbName } from './verbs.js';
import { once } from '../once.js';

/**
 * The gates: what must be closed before an action. One row an action; a profile adds to it with `due-before:`.
 * `open` lines are those still open at the step, `owed` the parts that are on but not tightened.
 */
interface Gate {
  /** Whether an open line forbids the action on this object. */
  readonly forbids: (line: Line, part: Part | undefined, object: string) => boolean;
  /** Whether a part that is on but not tightened forbids it. */
  readonly loose: (part: Part | undefined, object: string) => boolean;
}

const inCircuit = (part: Part | undefined, fluid: string): boolean => asList(part?.circuit).includes(fluid);
const anyCircuit = (part: Part | undefined): boolean => asList(part?.circuit).length > 0;
const carries = (part: Part | undefined, object: string): boolean => asList(part?.carries).includes(object);
const everything: Gate = { forbids: () => true, loose: () => true };
const nothing: Gate = { forbids: () => false, loose: () => false };

const turningOver: Gate = {
  forbids: (line, part) =>
    line.kind === 'temporary' || line.pair === 'drain' || part?.role === 'battery' || part?.role === 'belt' || anyCircuit(part),
  loose: (part) => part?.role === 'battery' || part?.role === 'belt' || anyCircuit(part),
};

const gates: Partial<Record<VerbName, Gate>> = {
  turn: nothing,
  crank: turningOver,
  start: turningOver,
  fill: {
    forbids: (_line, part, fluid) => inCircuit(part, fluid) && part?.role !== 'fill-point',
    loose: (part, fluid) => inCircuit(part, fluid) && part?.role !== 'fill-point',
  },
  pressurise: {
    forbids: (line, part, fluid) => inCircuit(part, fluid) || (line.pair === 'drain' && line.object === fluid),
    loose: inCircuit,
  },
  lower: { forbids: (line, part) => line.pair === 'support' || part?.role === 'wheel', loose: () => false },
  unsupport: { forbids: (_line, part, object) => carries(part, object), loose: carries },
  energise: { forbids: (line) => line.pair === 'lock' || line.pair === 'place', loose: () => false },
  connect: nothing,
  drive: everything,
  'hand-over': everything,
};

/** Lines that this very step closes do not stand in its way. */
const closesItself = (line: Line, step: PlanStep): boolean =>
  (step.verb === 'fill' && line.pair === 'drain' && step.objects.includes(line.object)) ||
  (step.verb === 'lower' && line.pair === 'raise') ||
  (step.verb === 'energise' && line.pair === 'isolate' && step.objects.includes(line.object));

/** `turn engine` or `turn`: whether a gate named in a profile is this step. */
const isNamed = (name: string, step: PlanStep): boolean => {
  if (name === step.verb) return true;
  const named = name.trim();
  if (!named.startsWith(step.verb)) return false;
  const behind = named.slice(step.verb.length);
  const object = behind.trimStart();
  return object === '' || (object !== behind && step.objects.includes(object));
};

/** A part that is on, with tightening still owed. */
export interface Loose {
  readonly part: string;
  readonly fitted: PlanStep;
}

export interface GateView {
  readonly open: Iterable<Line>;
  readonly loose: () => Iterable<Loose>;
  readonly isOpen: (object: string) => boolean;
}

export interface Endangered {
  readonly lines: readonly Line[];
  readonly loose: readonly Loose[];
  /** An interlock that must be open and is not: the ignition, when the battery is connected. */
  readonly mustBeOpen: string | null;
}

/** The verbs that profiles name as gates of their own. */
const namedGates = new WeakMap<object, ReadonlySet<string>>();

/** Whether a step is a gate, by the table or by a profile. */
export function isGate(scope: Scope, step: Step, verb: VerbName): boolean {
  if (gates[verb] || step.wheels === 'on-ground') return true;
  const named = once(namedGates, scope.things, () => {
    const all = [...scope.parts.values(), ...scope.temporaries.values()].flatMap((one) => one['due-before'] ?? []);
    return new Set(all.map((name) => name.trim().split(/\s+/)[0] ?? ''));
  });
  return named.has(verb);
}

/** Whether an open line stands in the way of a step, by the table or by the profile. */
function stands(line: Line, step: PlanStep, gate: Gate | undefined, isOpen: GateView['isOpen']): boolean {
  const onGround = step.step.wheels === 'on-ground';
  const byTable = onGround || (gate !== undefined && gate !== nothing);
  const { part, temporary } = line;
  const due = (temporary ?? part)?.['due-before'];
  if (!byTable && !due) return false;
  if (closesItself(line, step)) return false;
  const engineOnly = temporary?.['while-fitted'];
  if (engineOnly && isOpen(engineOnly) && (step.verb === 'turn' || step.verb === 'crank' || step.verb === 'start')) return false;
  for (const name of due ?? noNames) if (isNamed(name, step)) return true;
  if (onGround && (line.pair === 'raise' || part?.role === 'wheel')) return true;
  if (gate) for (const object of step.objects) if (gate.forbids(line, part, object)) return true;
  return false;
}

const noNames: readonly string[] = [];

/** Whether a part that is on but not tightened forbids a step. */
function isLooseFor({ part: id }: Loose, step: PlanStep, gate: Gate): boolean {
  const part = step.participant.scope.parts.get(id);
  for (const object of step.objects) if (gate.loose(part, object)) return true;
  return false;
}

/** What stands in the way of a step. Without closures: it is asked again and again for each step that waits. */
export function standingInTheWay(step: PlanStep, { open, loose, isOpen }: GateView): Endangered {
  const gate = gates[step.verb];
  const found: { lines: Line[]; loose: Loose[]; mustBeOpen: string | null } = { lines: [], loose: [], mustBeOpen: null };
  for (const line of open) if (stands(line, step, gate, isOpen)) found.lines.push(line);
  if (gate) for (const one of loose()) if (isLooseFor(one, step, gate)) found.loose.push(one);
  const { parts } = step.participant.scope;
  if (step.verb === 'connect' && step.objects.some((object) => parts.get(object)?.role === 'battery')) found.mustBeOpen = 'ignition';
  return found;
}
