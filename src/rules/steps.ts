import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import type { VerbName } from '../ledger/verbs.js';
import type { PlanStep } from '../plan/plan.js';
import type { Charge, Fluid, Part } from '../schema/generated/types.js';
import type { PlanPlace, RuleContext } from './context.js';

/** Every step of every plan; with verbs, only those that do one of these, verb by verb. */
export const stepsOfPlans = (context: RuleContext, ...verbs: readonly VerbName[]): readonly PlanPlace[] =>
  verbs.length === 0
    ? context.places
    : verbs.length === 1 && verbs[0]
      ? context.placesOf(verbs[0])
      : verbs.flatMap((verb) => context.placesOf(verb));

/** What takes something apart. */
export const takingApart: readonly VerbName[] = ['remove', 'disconnect', 'open', 'renew'];
const takesApart = ({ verb }: PlanStep): boolean => takingApart.includes(verb);

const hazardous = new WeakMap<object, ReadonlySet<string>>();

/** Whether a name has a hazard, of its own or of its circuit. */
export function isHazardous(scope: Scope, name: string): boolean {
  return once(hazardous, scope.things, () => {
    const all = new Set<string>();
    for (const table of [scope.fluids, scope.charges]) for (const [id, { hazard }] of table) if (hazard) all.add(id);
    for (const [id, part] of scope.parts) if (part.hazard || asList(part.circuit).some((circuit) => all.has(circuit))) all.add(id);
    return all;
  }).has(name);
}

/**
 * What a step opens that can hurt: the part itself, or the fluid whose circuit it belongs to, as long as nobody has
 * opened or drained that circuit before.
 */
export function dangersOf(place: PlanPlace): { readonly object: string; readonly source: Part | Fluid | Charge; readonly name: string }[] {
  const { planned } = place;
  if (!takesApart(planned) && planned.verb !== 'drain') return [];
  const { scope } = planned.participant;
  const { parts, fluids, charges } = scope;
  return planned.objects.flatMap((object) => {
    if (!isHazardous(scope, object)) return [];
    const part = parts.get(object);
    const circuits = planned.verb === 'drain' ? [object] : asList(part?.circuit);
    return [
      ...(part?.hazard ? [{ object, source: part, name: object }] : []),
      ...circuits.flatMap((name) => {
        const fluid = fluids.get(name) ?? charges.get(name);
        if (!fluid?.hazard) return [];
        const open = place.before.some(
          (step) =>
            (step.verb === 'drain' && step.objects.includes(name)) ||
            (takesApart(step) && step.objects.some((one) => asList(parts.get(one)?.circuit).includes(name))),
        );
        return !open ? [{ object, source: fluid, name }] : [];
      }),
    ];
  });
}

/** Whether one of the steps does this to that object. */
export const did = (steps: readonly PlanStep[], verb: PlanStep['verb'], object?: string): boolean =>
  steps.some((step) => step.verb === verb && (object === undefined || step.objects.includes(object)));

/** Whether a step takes a battery off. */
export const disconnectsBattery = ({ verb, objects, participant }: PlanStep): boolean =>
  verb === 'disconnect' && objects.some((object) => participant.scope.parts.get(object)?.role === 'battery');
