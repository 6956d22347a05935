import { bare } from '../../bare.js';
import { stressArea, type Thread } from './threads.js';

/**
 * Modulus of elasticity, MPa, of what is clamped. Source: Shigley, Mechanical Engineering Design, 9e, table 8-8
 * (steel 207, aluminium 71, grey cast iron 100 GPa; from memory). The bolt counts as steel.
 */
export const elasticity: Readonly<Record<string, number>> = bare({ steel: 207_000, aluminium: 71_000, 'cast iron': 100_000 });

/** One layer of a clamped joint, from the head to the nut or thread. */
export interface Layer {
  /** Thickness, mm, > 0. */
  readonly thickness: number;
  /** Modulus of elasticity, MPa. */
  readonly elasticity: number;
}

/**
 * Length of the thread on a bolt, mm. Source: ISO 888 / ISO 4014: 2d + 6 up to 125 mm, 2d + 12 up to 200 mm, 2d + 25
 * above. Where the bolt is shorter it is threaded all along.
 */
export const threadLength = (diameter: number, length: number): number =>
  Math.min(length, 2 * diameter + (length <= 125 ? 6 : length <= 200 ? 12 : 25));

/**
 * Stiffness of the bolt between head and nut, N/mm: `k_b = A_d·A_t·E / (A_d·l_t + A_t·l_d)`.
 * Source: Shigley 9e, equation 8-17.
 * @param clamp length between head and nut, mm, > 0
 * @param shank unthreaded length inside the clamp, mm, 0 … clamp
 */
export function boltStiffness(thread: Thread, clamp: number, shank: number, modulus = elasticity.steel ?? 207_000): number {
  const full = (Math.PI / 4) * thread.diameter ** 2;
  const stressed = stressArea(thread);
  const plain = Math.min(Math.max(shank, 0), clamp);
  return (full * stressed * modulus) / (full * (clamp - plain) + stressed * plain);
}

/**
 * Stiffness of a hollow cone frustum of 30°, N/mm. Source: Shigley 9e, equation 8-20.
 * @param hole d, mm
 * @param start D, diameter at the narrow end, mm, > d
 * @param thickness t, mm, > 0
 */
function frustumStiffness(hole: number, start: number, thickness: number, modulus: number): number {
  const d = hole;
  const D = start;
  const grown = 1.155 * thickness;
  return (0.5774 * Math.PI * modulus * d) / Math.log(((grown + D - d) * (D + d)) / ((grown + D + d) * (D - d)));
}

/**
 * Stiffness of clamped layers, N/mm: frusta of 30° from both ends that meet in the middle, one behind the other.
 * Source: Shigley 9e, section 8-5. The washer face is 1.5 times the bolt diameter.
 * @param diameter nominal diameter of the bolt, mm; also taken for the hole
 */
export function memberStiffness(diameter: number, layers: readonly Layer[]): number {
  const total = layers.reduce((sum, one) => sum + one.thickness, 0);
  const half = total / 2;
  const face = 1.5 * diameter;
  const slope = 2 * Math.tan(Math.PI / 6);
  let give = 0;
  const cone = (from: number, thickness: number, modulus: number) => {
    if (thickness > 1e-12) give += 1 / frustumStiffness(diameter, face + from * slope, thickness, modulus);
  };
  let at = 0;
  for (const layer of layers) {
    const end = at + layer.thickness;
    const upper = Math.min(end, half);
    if (upper > at) cone(at, upper - at, layer.elasticity);
    const lower = Math.max(at, half);
    if (end > lower) cone(total - end, end - lower, layer.elasticity);
    at = end;
  }
  return 1 / give;
}

/**
 * Preload that a turn adds, N: `ΔF = θ/360 · P · k_b·k_m / (k_b + k_m)`, as long as nothing yields.
 * Source: Shigley 9e, problem 8-28 (turn of the nut).
 * @param angle θ, degrees
 * @param bolt k_b, N/mm
 * @param members k_m, N/mm
 */
export const preloadByAngle = (angle: number, pitch: number, bolt: number, members: number): number =>
  (angle / 360) * pitch * ((bolt * members) / (bolt + members));
