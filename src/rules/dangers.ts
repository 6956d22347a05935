import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { PlanStep } from '../plan/plan.js';
import type { Charge, Fluid, Part } from '../schema/generated/types.js';
import { lettingOut, takingApart } from './steps.js';

/** What can hurt when it is opened: a part, or a fluid or charge behind it. */
export interface Danger {
  readonly object: string;
  readonly source: Part | Fluid | Charge;
  readonly name: string;
}

const hazardous = new WeakMap<object, ReadonlySet<string>>();

/** Names with a hazard, of their own or of their circuit. */
export const hazardousIn = (scope: Scope): ReadonlySet<string> =>
  once(hazardous, scope.things, () => {
    const all = new Set<string>();
    for (const table of [scope.fluids, scope.charges]) for (const [id, { hazard }] of table) if (hazard) all.add(id);
    for (const [id, part] of scope.parts) if (part.hazard || asList(part.circuit).some((circuit) => all.has(circuit))) all.add(id);
    return all;
  });

/** A step, and what is done before it. */
interface Before {
  readonly planned: PlanStep;
  readonly before: readonly PlanStep[];
}

/**
 * What a step opens that can hurt: the part itself, or the fluid whose circuit it belongs to, as long as nobody has
 * opened or drained that circuit before.
 */
export function dangersOf(place: Before): readonly Danger[] {
  const { planned } = place;
  if (!lettingOut.includes(planned.verb)) return none;
  const hazardous = hazardousIn(planned.participant.scope);
  for (const object of planned.objects) if (hazardous.has(object)) return dangersIn(place);
  return none;
}

const dangersIn = ({ planned, before }: Before): readonly Danger[] => {
  const { parts, fluids, charges } = planned.participant.scope;
  return planned.objects.flatMap((object) => {
    const part = parts.get(object);
    const circuits = planned.verb === 'drain' ? [object] : asList(part?.circuit);
    return [
      ...(part?.hazard ? [{ object, source: part, name: object }] : []),
      ...circuits.flatMap((name) => {
        const fluid = fluids.get(name) ?? charges.get(name);
        if (!fluid?.hazard) return [];
        const open = before.some(
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

const none: readonly Danger[] = [];
