import type { Scope } from '../library/scope.js';
import type { PlanStep } from '../plan/plan.js';
import type { Measurement } from '../schema/generated/types.js';
import { isDamaged } from '../schema/origin.js';

/** A reading that must stay below a voltage. */
const provesDead = (measured: Measurement | undefined): boolean => {
  const limit = measured?.limit;
  return limit?.unit.dimension === 'voltage' && limit.high !== null && limit.low === null;
};

/** The first measurement of a step that proves high voltage dead; undefined where none does. */
export const proofIn = ({ verb, objects, participant: { scope } }: PlanStep): string | undefined =>
  verb === 'measure' ? objects.find((object) => provesDead(scope.measurements.get(object))) : undefined;

/** Whether readings of the profile could not be read: that is told there, and no proof is missed for it. */
export const lacksReadings = ({ vehicle }: Scope): boolean => vehicle?.measurements !== undefined && isDamaged(vehicle.measurements);
