import { runsEngine } from '../ledger/engine.js';
import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import type { Charge, Fluid, Part } from '../schema/generated/types.js';
import { heldAfter, isOpenAfter, lettingOut, slackAfter, takingApart } from './steps.js';

/** What can hurt when something is opened: that part, a fluid or charge behind it, or a spring that it holds. */
export interface Danger {
  readonly object: string;
  readonly source: Part | Fluid | Charge;
  readonly name: string;
}

const hazardous = new WeakMap<object, ReadonlySet<string>>();

/** Names with a hazard: of their own, of their circuit, or of the spring that they hold. */
export const hazardousIn = (scope: Scope): ReadonlySet<string> =>
  once(hazardous, scope.things, () => {
    const all = new Set<string>();
    for (const table of [scope.fluids, scope.charges]) for (const [id, { hazard }] of table) if (hazard) all.add(id);
    for (const [id, part] of scope.parts) {
      if (part.hazard || asList(part.circuit).some((circuit) => all.has(circuit))) all.add(id);
      if (part.hazard === 'spring') for (const holder of part['held-by'] ?? []) all.add(holder);
    }
    return all;
  });

type Spring = readonly [string, Part];

const springs = new WeakMap<object, ReadonlyMap<string, readonly Spring[]>>();

/** The springs that parts hold, by what holds them. */
const springsIn = (scope: Scope): ReadonlyMap<string, readonly Spring[]> =>
  once(springs, scope.things, () => {
    const all = new Map<string, Spring[]>();
    for (const [id, part] of scope.parts)
      if (part.hazard === 'spring')
        for (const holder of part['held-by'] ?? []) if (holder !== id) once(all, holder, () => []).push([id, part]);
    return all;
  });

/** A step, and what is done before it. */
interface Before {
  readonly planned: PlanStep;
  readonly before: readonly PlanStep[];
}

/**
 * What a step opens that can hurt: the part itself, or the fluid whose circuit it belongs to, as long as nobody has
 * opened or drained that circuit before, or a spring that it holds, as long as that presses against anything.
 */
export function dangersOf(place: Before): readonly Danger[] {
  const { planned } = place;
  if (!lettingOut.includes(planned.verb)) return none;
  const hazardous = hazardousIn(planned.participant.scope);
  for (const object of planned.objects) if (hazardous.has(object)) return dangersIn(place);
  return none;
}

const dangersIn = ({ planned, before }: Before): readonly Danger[] => {
  const { scope } = planned.participant;
  const { parts, fluids, charges } = scope;
  return planned.objects.flatMap((object) => {
    const part = parts.get(object);
    const circuits = planned.verb === 'drain' ? [object] : asList(part?.circuit);
    // A new one of what is off already opens nothing.
    const isOff = planned.verb === 'renew' && isOpenAfter(before, object);
    const springs = part?.hazard || isOff ? [] : (springsIn(scope).get(object) ?? []).filter(([id, spring]) => presses(before, id, spring));
    return [
      ...(part?.hazard && !isOff && presses(before, object, part) ? [{ object, source: part, name: object }] : []),
      ...springs.map(([name, source]) => ({ object, source, name })),
      ...circuits.flatMap((name) => {
        const fluid = fluids.get(name) ?? charges.get(name);
        if (!fluid?.hazard) return [];
        const open = sinceRun(before, fluid.hazard).some(
          (step) =>
            // What was recovered is safe only when it is known how much it was; of a charge that is a condition of its own.
            (step.verb === 'drain' && !charges.has(name) && step.objects.includes(name)) ||
            (takingApart.includes(step.verb) && step.objects.some((one) => asList(parts.get(one)?.circuit).includes(name))),
        );
        return !open ? [{ object, source: fluid, name }] : [];
      }),
    ];
  });
};

const afterRun: ReadonlySet<string> = new Set(['hot', 'fuel-pressure', 'hydraulic', 'compressed-air']);

/** Of some steps those after which a hazard is still as it was: what the engine heats or pumps up is dangerous again once it ran. */
export function sinceRun(before: readonly PlanStep[], hazard: string | undefined): readonly PlanStep[] {
  if (hazard === undefined || !afterRun.has(hazard)) return before;
  const ran = before.findLastIndex(({ verb }) => runsEngine.has(verb));
  return ran < 0 ? before : before.slice(ran);
}

/** Whether a spring can fly off: not where it was let go after what held it had come off. Of anything else this is not asked. */
const presses = (before: readonly PlanStep[], id: string, { hazard, 'held-by': holders = [] }: Part): boolean =>
  hazard !== 'spring' ||
  heldAfter(before).has(id) ||
  !(slackAfter(before).has(id) || holders.some((holder) => isOpenAfter(before, holder)));

const none: readonly Danger[] = [];
