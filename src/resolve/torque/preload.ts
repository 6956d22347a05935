import { bare } from '../../bare.js';
import { yieldStrength } from './strength.js';
import { stressArea, type Thread, threadDiameters } from './threads.js';

/** Friction in thread and under the head, lowest and highest to expect. No unit. */
export interface FrictionBand {
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/**
 * What `threads:` means for friction. Source: VDI 2230-1:2015, table A5, classes of friction coefficients (from memory):
 * A 0.04–0.10 (solid lubricants), B 0.08–0.16 (oiled, phosphated and oiled, greased), C 0.14–0.24 (dry, as rolled, with
 * plastic film). Threadlocker and sealant: class B to C, common practice, no source.
 */
const frictionBands: Readonly<Record<string, FrictionBand>> = bare({
  dry: { low: 0.14, high: 0.24, source: 'VDI 2230-1:2015 table A5, class C (from memory)' },
  oiled: { low: 0.08, high: 0.16, source: 'VDI 2230-1:2015 table A5, class B (from memory)' },
  greased: { low: 0.08, high: 0.16, source: 'VDI 2230-1:2015 table A5, class B (from memory)' },
  'as supplied': { low: 0.08, high: 0.16, source: 'VDI 2230-1:2015 table A5, class B (from memory)' },
  'anti-seize': { low: 0.04, high: 0.1, source: 'VDI 2230-1:2015 table A5, class A (from memory)' },
  threadlocker: { low: 0.1, high: 0.2, source: 'common practice, no source' },
  sealant: { low: 0.1, high: 0.2, source: 'common practice, no source' },
});

/** Anything from oiled to dry: where nobody says how the threads are. */
const unknownFriction: FrictionBand = { low: 0.08, high: 0.24, source: 'VDI 2230-1:2015 table A5, classes B and C (from memory)' };

export const frictionOf = (threads: string | undefined): FrictionBand => frictionBands[threads ?? ''] ?? unknownFriction;

/**
 * Outer diameter of the bearing face under a hexagon head and clearance hole, mm, by nominal diameter.
 * Source: d_w ISO 4014, smallest (M22: for the 34 mm head); d_h ISO 273, medium. From memory; the values from M4 to M24
 * are confirmed by tests/reference/vdi2230_geometry_used.csv.
 */
const heads: readonly (readonly [diameter: number, bearing: number, hole: number])[] = [
  [3, 4.57, 3.4],
  [4, 5.9, 4.5],
  [5, 6.9, 5.5],
  [6, 8.9, 6.6],
  [7, 9.63, 7.6],
  [8, 11.6, 9],
  [10, 14.6, 11],
  [12, 16.6, 13.5],
  [14, 19.6, 15.5],
  [16, 22.5, 17.5],
  [18, 25.3, 20],
  [20, 28.2, 22],
  [22, 31.71, 24],
  [24, 33.6, 26],
  [27, 38, 30],
  [30, 42.75, 33],
  [33, 46.55, 36],
  [36, 51.11, 39],
  [39, 55.86, 42],
];

/** Mean diameter of the friction under the head, mm: `(d_w + d_h) / 2`; between the sizes of the table by proportion. */
export function headFrictionDiameter(diameter: number): number {
  const above = heads.find(([d]) => d >= diameter - 1e-9);
  const below = heads.findLast(([d]) => d <= diameter + 1e-9);
  const mean = ([, bearing, hole]: readonly [number, number, number]) => (bearing + hole) / 2;
  if (above && below) {
    if (above === below) return mean(above);
    const share = (diameter - below[0]) / (above[0] - below[0]);
    return mean(below) + share * (mean(above) - mean(below));
  }
  const nearest = above ?? below;
  return nearest ? (mean(nearest) * diameter) / nearest[0] : diameter * 1.3;
}

/** Torque arm of one newton of preload, mm: `0.16·P + 0.58·d2·μ_G + D_Km/2·μ_K` with μ_G = μ_K. Source: VDI 2230-1. */
const arm = (thread: Thread, friction: number): number =>
  0.16 * thread.pitch + 0.58 * threadDiameters(thread).pitch * friction + (headFrictionDiameter(thread.diameter) / 2) * friction;

/**
 * Preload that a torque gives, N. Source: VDI 2230-1, equation for M_A, solved for F_M.
 * @param torque N·m, ≥ 0
 * @param friction μ in thread and under head, > 0
 */
export const preloadFrom = (torque: number, thread: Thread, friction: number): number => (torque * 1000) / arm(thread, friction);

/**
 * Preload and torque that use 90 % of the yield strength while tightening. Source: VDI 2230-1, tables A1 and A3:
 * `F = ν·R_p0.2·A_0 / √(1 + 3·[3/2·d2/d0·(P/(π·d2) + 1.155·μ)]²)`, ν = 0.9, d0 = (d2 + d3)/2.
 * @returns F in N and M in N·m; null where the class is not known
 */
export function assemblyLoad(
  thread: Thread,
  propertyClass: string,
  friction: number,
): { readonly force: number; readonly torque: number } | null {
  const strength = yieldStrength(propertyClass, thread.diameter);
  if (strength === null) return null;
  const { pitch: d2, root: d3 } = threadDiameters(thread);
  const d0 = (d2 + d3) / 2;
  const area = (Math.PI / 4) * d0 ** 2;
  const twist = 1.5 * (d2 / d0) * (thread.pitch / (Math.PI * d2) + 1.155 * friction);
  const force = (0.9 * strength * area) / Math.sqrt(1 + 3 * twist ** 2);
  return { force, torque: (force * arm(thread, friction)) / 1000 };
}

/** Preload of a torque at both ends of a friction band, N, and as shares of the proof load. */
export interface PreloadBand {
  /** At the high-friction end. */
  readonly least: number;
  /** At the low-friction end. */
  readonly most: number;
  readonly leastShare: number;
  readonly mostShare: number;
}

/**
 * The estimate that is shown beside a torque. The maker's figure stands.
 * @param torque N·m
 * @param proof proof stress, MPa
 */
export function preloadBand(torque: number, thread: Thread, band: FrictionBand, proof: number): PreloadBand {
  const proofLoad = stressArea(thread) * proof;
  const least = preloadFrom(torque, thread, band.high);
  const most = preloadFrom(torque, thread, band.low);
  return { least, most, leastShare: least / proofLoad, mostShare: most / proofLoad };
}
