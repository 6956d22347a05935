import type { Fastener } from '../../schema/generated/types.js';
import { inUnit, numberIn, quantityOf, within } from '../../quantity/quantity.js';
import { playOfBackOff } from './end-play.js';
import { type FrictionBand, frictionOf, type PreloadBand, preloadBand } from './preload.js';
import { boltStiffness, elasticity, memberStiffness, preloadByAngle, threadLength } from './stiffness.js';
import { proofStress } from './strength.js';
import { parseThread, stressArea } from './threads.js';

/** Torque coefficient of the estimate (ISO 16047: T = K·F·d); common practice, no source. Never used to set a torque. */
const torqueCoefficient = 0.16;

/** Where the estimate speaks. Found by trying slipped units on real values; a plug only has to keep tight. */
export const thresholds = { cannotHold: 1.6, high: 1.1, low: 0.15, lowOfPlug: 0.03 } as const;

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

/** The highest plain torque that loads the bolt, N·m, without the running torque of a locking nut; null where there is none. */
function highestTorque(fastener: Fastener): number | null {
  const torques = (fastener.stages ?? []).flatMap((stage) => {
    const torque = stage.torque ?? stage.ladder?.to;
    return torque ? [numberIn(torque, 'N·m')] : [];
  });
  const running = fastener.prevailing?.counts === 'included' ? numberIn(fastener.prevailing.torque, 'N·m') : 0;
  return torques.length > 0 ? Math.max(0, Math.max(...torques) - running) : null;
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

export interface PreloadEstimate {
  /** N·m */
  readonly torque: number;
  readonly friction: FrictionBand;
  readonly band: PreloadBand;
}

/** Preload of the highest plain torque over the friction band of `threads:`; null where thread, class or torque is not known. */
export function preloadOf(fastener: Fastener): PreloadEstimate | null {
  const thread = fastener.thread ? parseThread(fastener.thread) : null;
  const proof = thread && fastener.class ? proofStress(fastener.class, thread.diameter) : null;
  const torque = highestTorque(fastener);
  if (!thread || proof === null || torque === null) return null;
  const friction = frictionOf(fastener.threads);
  return { torque, friction, band: preloadBand(torque, thread, friction, proof) };
}

export interface Turned {
  /** Sum of the angle stages, degrees. */
  readonly angle: number;
  /** Stiffness of bolt and members, N/mm. */
  readonly bolt: number;
  readonly members: number;
  /** Preload that the turn adds while all is elastic, N. */
  readonly force: number;
}

/** What the angle stages add; null without `clamp-length`: no guess is printed. */
export function turnAdds(fastener: Fastener): Turned | null {
  const thread = fastener.thread ? parseThread(fastener.thread) : null;
  const clamp = fastener['clamp-length'] ? numberIn(fastener['clamp-length'], 'mm') : 0;
  const angle = (fastener.stages ?? []).reduce((sum, stage) => sum + (stage.angle && !stage.after ? numberIn(stage.angle, 'deg') : 0), 0);
  if (!thread || clamp <= 0 || angle <= 0) return null;
  const shank = thread.length ? thread.length - threadLength(thread.diameter, thread.length) : 0;
  const bolt = boltStiffness(thread, clamp, shank);
  const modulus = elasticity[fastener.clamped ?? 'steel'] ?? elasticity.steel ?? 0;
  const members = memberStiffness(thread.diameter, [{ thickness: clamp, elasticity: modulus }]);
  return { angle, bolt, members, force: preloadByAngle(angle, thread.pitch, bolt, members) };
}

interface PlayLeft {
  readonly angle: number;
  /** mm. */
  readonly left: number;
  readonly fits: boolean;
  /** In the unit of the limit: to a micrometre, or a ten-thousandth of an inch. */
  readonly text: string;
}

/**
 * The end play that the last back-off leaves, where an `end-play:` limit is declared; null where the fastener is turned on
 * again after it (by hand, to a torque): then that decides.
 */
export function playLeft(fastener: Fastener): PlayLeft | null {
  const thread = fastener.thread ? parseThread(fastener.thread) : null;
  const turned = fastener.stages?.findLast((stage) => stage.wait === undefined && stage.after === undefined);
  const backOff = turned?.['back-off'];
  const limit = fastener['end-play'];
  if (!thread || !backOff || !limit) return null;
  const angle = numberIn(backOff, 'deg');
  const left = playOfBackOff(angle, thread.pitch);
  const play = quantityOf(left, 'mm');
  const { symbol } = limit.unit;
  const text = `${inUnit(play, symbol).toFixed(symbol === 'in' ? 4 : 3)} ${symbol}`;
  return { angle, left, fits: within(limit, play), text };
}
