import type { Fastener } from '../../schema/generated/types.js';
import { numberIn } from '../../quantity/quantity.js';
import { proofStress } from './strength.js';
import { parseThread, stressArea } from './threads.js';

/** Torque coefficient of the estimate (ISO 16047: T = K·F·d); common practice, no source. Never used to set a torque. */
export const torqueCoefficient = 0.16;

/** Where the estimate speaks. Found by trying slipped units on real values. */
export const thresholds = { cannotHold: 1.6, high: 1.1, low: 0.15 } as const;

/**
 * The torque that would load the bolt to its proof load, N·m: `K · d · A_s · S_p` with K = 0.16.
 * @returns null where thread or class is not known
 */
export function proofTorque(thread: string | undefined, propertyClass: string | undefined): number | null {
  const parsed = thread ? parseThread(thread) : null;
  const stress = parsed && propertyClass ? proofStress(propertyClass, parsed.diameter) : null;
  if (!parsed || stress === null) return null;
  return torqueCoefficient * (parsed.diameter / 1000) * stressArea(parsed) * stress;
}

/** The highest plain torque of the stages, N·m; null where there is none. */
export function highestTorque(fastener: Fastener): number | null {
  const torques = (fastener.stages ?? []).flatMap((stage) => (stage.torque ? [numberIn(stage.torque, 'N·m')] : []));
  return torques.length > 0 ? Math.max(...torques) : null;
}

/**
 * Highest plain torque over the torque that reaches the proof load. An estimate: the maker's figure is the
 * specification. It finds slips of 12 or 9.8; it cannot find lbf·ft for N·m (1.36).
 */
export function loadRatio(fastener: Fastener): number | null {
  const limit = proofTorque(fastener.thread, fastener.class);
  const torque = highestTorque(fastener);
  return limit === null || torque === null ? null : torque / limit;
}

/** Units that people mix up, and by how much. */
const slips: readonly { readonly from: string; readonly to: string }[] = [
  { from: 'lbf·ft', to: 'lbf·in' },
  { from: 'lbf·in', to: 'lbf·ft' },
  { from: 'kgf·m', to: 'N·m' },
  { from: 'N·m', to: 'kgf·m' },
  { from: 'N·m', to: 'lbf·in' },
  { from: 'N·m', to: 'cN·m' },
];

const sensible = (ratio: number): boolean => ratio >= 0.2 && ratio <= 1.1;

/** The unit that would make the value sensible for this bolt, if a usual slip explains it. */
export function likelySlip(unit: string, ratio: number, factorTo: (symbol: string) => number): string | null {
  const found = slips.filter((slip) => slip.from === unit && sensible(ratio * factorTo(slip.to)));
  return found[0]?.to ?? null;
}
