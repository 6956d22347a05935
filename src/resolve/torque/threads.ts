import { bare } from '../../bare.js';
/** A screw thread, in mm. */
export interface Thread {
  /** Nominal diameter, mm. */
  readonly diameter: number;
  /** Pitch, mm. */
  readonly pitch: number;
  /** Length of the bolt, mm, where it was written. */
  readonly length: number | null;
  readonly system: 'metric' | 'unified';
}

/** Coarse pitches, mm. Source: ISO 261. */
const coarse: Readonly<Record<string, number>> = bare({
  '1.6': 0.35,
  '2': 0.4,
  '2.5': 0.45,
  '3': 0.5,
  '3.5': 0.6,
  '4': 0.7,
  '5': 0.8,
  '6': 1,
  '7': 1,
  '8': 1.25,
  '10': 1.5,
  '12': 1.75,
  '14': 2,
  '16': 2,
  '18': 2.5,
  '20': 2.5,
  '22': 2.5,
  '24': 3,
  '27': 3,
  '30': 3.5,
  '33': 3.5,
  '36': 4,
  '39': 4,
  '42': 4.5,
  '45': 4.5,
  '48': 5,
});

/** Diameters of numbered unified threads, in: 0.060 + 0.013 × number. Source: ASME B1.1. */
const numberedInch = (number: number): number => 0.06 + 0.013 * number;

/** What is tightened by a torque and has no thread of a bolt, as a hose clamp or a bayonet ring, says so: `thread: none`. */
const none = 'none';

/** The thread of a group; null where nobody says one, or that there is none. */
export const threadOf = ({ thread }: { readonly thread?: string }): string | null => (thread === none ? null : (thread ?? null));

/** Whether a group says that it has no thread. */
export const hasNoThread = ({ thread }: { readonly thread?: string }): boolean => thread === none;

/**
 * Reads a thread as the trade writes it: `M10`, `M10x1.25`, `M12×1.5×150` (with the length), `7/16-14`, `1/4-20 UNC`, `#10-24`.
 * @returns null where it is not a thread
 */
export function parseThread(text: string): Thread | null {
  const metric = /^M(\d+(?:\.\d+)?)(?:[x×](\d+(?:\.\d+)?))?(?:[x×](\d+(?:\.\d+)?))?$/.exec(text.trim());
  if (metric) {
    const [, diameter = '', second, third] = metric;
    const standard = coarse[String(Number(diameter))];
    const looksLikeLength = second !== undefined && third === undefined && Number(second) > 6;
    const pitch = second === undefined || looksLikeLength ? standard : Number(second);
    if (pitch === undefined || pitch <= 0 || pitch > Number(diameter) / 2) return null;
    return { diameter: Number(diameter), pitch, length: third ? Number(third) : looksLikeLength ? Number(second) : null, system: 'metric' };
  }
  const inch = /^(?:#(\d+)|(\d+)(?:\/(\d+))?)-(\d+)(?: UN[CFS])?$/.exec(text.trim());
  if (!inch) return null;
  const [, gauge, top, bottom, perInch = '0'] = inch;
  const diameter = gauge !== undefined ? numberedInch(Number(gauge)) : Number(top) / Number(bottom ?? 1);
  if (Number(perInch) <= 0 || diameter <= 0 || !Number.isFinite(diameter)) return null;
  return { diameter: diameter * 25.4, pitch: 25.4 / Number(perInch), length: null, system: 'unified' };
}

/**
 * Tensile stress area, mm²: `π/4 · (d − k·P)²` with k = 0.938 194 for metric threads (ISO 898-1, 9.1.6.1:
 * the mean of pitch and minor diameter) and 0.974 279 for unified threads (ASME B1.1).
 */
export function stressArea(thread: Thread): number {
  const factor = thread.system === 'metric' ? 0.938194 : 0.974279;
  return (Math.PI / 4) * (thread.diameter - factor * thread.pitch) ** 2;
}

/**
 * Diameters of a thread, mm. Source: ISO 724 (d2 = d − 0.649 519·P) and ISO 898-1, 9.1.6.1 (d3 = d − 1.226 869·P);
 * unified threads share the 60° form (ASME B1.1).
 */
export function threadDiameters(thread: Thread): { readonly pitch: number; readonly root: number; readonly minor: number } {
  const { diameter: d, pitch: p } = thread;
  return { pitch: d - 0.649519 * p, root: d - 1.226869 * p, minor: d - 1.082532 * p };
}
