import { called } from '../../ledger/called.js';
import type { VerbName } from '../../ledger/verbs.js';
import { asList, type Scope } from '../../library/scope.js';
import type { Part } from '../../schema/generated/types.js';
import { brakesOf } from '../brakes.js';
import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import { partsWhere } from '../parts-where.js';
import { firstFound, type PlanPlace } from '../places.js';
import type { Rule } from '../rule.js';
import { onlyPrepares, takingApart } from '../steps.js';

/** What answers for a fluid: it is let out into a vessel, poured in, looked at. */
const accounting: ReadonlySet<VerbName> = new Set(['drain', 'fill', 'check', 'bleed']);

const hoseOff = (around: string, after: string): string =>
  procedure(`parts: { hose: { name: lower hose, circuit: coolant, beneath: true } }
steps:
  - raise: vehicle
  - remove: hose${around}
close-up:
  - fit: hose
${after}final: { ground: [{ lower: vehicle }] }
`);

export const rule: Rule = {
  name: 'fluid/unaccounted',
  severity: 'warning',
  finds: 'A circuit is opened, and no step drains its fluid, fills it or checks its level.',
  why: 'What runs out lies on the floor, and is missing when the engine starts.',
  mend: 'Drain it before; or, where only a little is lost, check its level after.',
  bad: hoseOff(' # <-', ''),
  good: hoseOff('', '  - check: coolant\n    says: Between the marks, cold.\n'),
  check(context, tell) {
    for (const { place, object, kind: fluid } of firstFound(context.placesOf(takingApart), unaccounted)) {
      const { plan, planned } = place;
      const little = planned.participant.scope.fluids.get(fluid)?.level
        ? `; where only a little is lost, add \`check: ${fluid}\` to the close-up`
        : '';
      tell({
        span: spanOfObject(plan, planned, object),
        about: fluid,
        message: `${called(planned, object)} lets ${called(planned, fluid)} out here, and no step drains it, fills it or checks its level. Put \`drain: ${fluid}\` before this step, or need what drains it${little}.`,
      });
    }
  },
};

/**
 * Where a fluid runs out: parts of a circuit whose level is asked for, or that runs over whoever stands beneath. Brakes have
 * a rule of their own, and charges are recovered.
 */
const lettingOut = partsWhere(
  (part, _id, scope) => part.role !== 'fill-point' && asList(part.circuit).some((id) => runsOut(id, part, scope)),
);

function runsOut(id: string, part: Part, scope: Scope): boolean {
  const fluid = scope.fluids.get(id);
  return fluid !== undefined && (fluid.level !== undefined || part.beneath === true) && !brakesOf(scope).circuits.has(id);
}

/** The fluids that run out where this is off or open, and that nobody answers for. */
function unaccounted(place: PlanPlace, object: string): false | readonly string[] {
  const { scope } = place.planned.participant;
  const part = lettingOut(scope).has(object) ? scope.parts.get(object) : undefined;
  return part !== undefined && asList(part.circuit).filter((id) => runsOut(id, part, scope) && !isAccounted(place, id));
}

/** A preparation on its own leaves it to who needs it. */
const isAccounted = ({ plan }: PlanPlace, fluid: string): boolean =>
  plan.steps.some(({ verb, objects }) => accounting.has(verb) && objects.includes(fluid)) || onlyPrepares(plan);
