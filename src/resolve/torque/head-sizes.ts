import { bare } from '../../bare.js';
import { isOtherThread } from './other-threads.js';
import { parseThread } from './threads.js';

/**
 * What grips a fastener, by thread: hexagon across flats, mm (ISO 4014/4017 and the older DIN 931/933), small and
 * heavy flange heads and nuts (ISO 4162, ISO 15071, EN 1662, EN 1665, ISO 4161, EN 1661), socket-head keys (ISO 4762),
 * six-lobe sockets (ISO 14579), and wheel bolts and nuts (common practice, no source). The size belongs to the head standard and not to the thread: several are right.
 * Checked against tests/reference/across_flats.csv.
 */
const metricFlats: Readonly<Record<string, readonly number[]>> = {
  '3': [5.5],
  '4': [7],
  '5': [7, 8],
  '6': [8, 10],
  '8': [10, 12, 13],
  '10': [13, 14, 15, 16, 17],
  '12': [15, 16, 17, 18, 19, 21],
  '14': [18, 19, 21, 22],
  '16': [21, 22, 24],
  '18': [24, 27],
  '20': [27, 30],
  '22': [30, 32, 34],
  '24': [32, 36],
  '27': [36, 41],
  '30': [41, 46],
};
const metricKeys: Readonly<Record<string, readonly number[]>> = {
  '3': [2, 2.5],
  '4': [2.5, 3],
  '5': [3, 4],
  '6': [4, 5],
  '8': [5, 6],
  '10': [6, 7, 8],
  '12': [8, 10],
  '14': [8, 10, 12],
  '16': [8, 10, 14],
  '18': [10, 12, 14],
  '20': [10, 12, 17],
  '22': [10, 12, 17],
  '24': [12, 14, 19],
};
const metricLobes: Readonly<Record<string, readonly number[]>> = {
  '3': [10, 15],
  '4': [15, 20],
  '5': [20, 25, 27],
  '6': [25, 27, 30],
  '8': [30, 40, 45],
  '10': [40, 45, 50],
  '12': [50, 55],
  '14': [55, 60],
  '16': [60, 70],
  '18': [80],
  '20': [90],
};
/** External six-lobe heads; common practice, no source. */
const metricOuter: Readonly<Record<string, readonly number[]>> = {
  '4': [5, 6],
  '5': [6, 7],
  '6': [7, 8, 10],
  '8': [8, 10, 11, 12],
  '10': [12, 14, 16],
  '12': [14, 16, 18],
  '14': [18, 20],
  '16': [20, 22, 24],
};
/** Hexagon across flats in sixteenths of an inch. Source: ASME B18.2.1; checked against tests/reference/af_inch.csv. */
const inchFlats: Readonly<Record<string, readonly number[]>> = bare({
  '1/4': [6, 7],
  '5/16': [8],
  '3/8': [9],
  '7/16': [10, 11],
  '1/2': [12],
  '9/16': [13, 14],
  '5/8': [15],
  '3/4': [18],
  '7/8': [21],
  '1': [24],
});

export type Grip = 'hexagon' | 'key' | 'six-lobe' | 'six-lobe outside';

export interface Drive {
  readonly grip: Grip;
  /** mm; sixteenths of an inch where `inch`; the number of a six-lobe size. */
  readonly size: number;
  readonly inch: boolean;
}

/** How the width across flats of a spanner is written: across flats, in millimetres, in German. */
const acrossFlats: readonly RegExp[] = [
  /^(\d+(?:\.\d+)?|\d+\/\d+|\d+-\d+\/\d+)\s*(?:in\s*)?AF\b/,
  /^(\d+(?:\.\d+)?)\s*mm(?: (?:socket|spanner|wrench|ring|open|flange))?$/,
  /^SW\s*(\d+(?:\.\d+)?)\b/,
];

/**
 * What a `drive:` says: `16 AF`, `16 mm`, `10 AF flange`, `17 AF open`, `9/16 AF`, `8 hex key`, `T45`, `E14`; in German `SW 16` and
 * `8 Innensechskant`. Null where it is another tool.
 */
export function parseDrive(text: string): Drive | null {
  const written = text.trim();
  for (const pattern of acrossFlats) {
    const size = pattern.exec(written)?.[1];
    if (size === undefined) continue;
    const parts = /^(?:(\d+)-)?(\d+)\/(\d+)$/.exec(size);
    if (parts) return { grip: 'hexagon', size: (Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3])) * 16, inch: true };
    return { grip: 'hexagon', size: Number(size), inch: false };
  }
  const key = /^(\d+(?:\.\d+)?)\s*(?:mm\s*)?(?:hex key|Innensechskant)$/.exec(written);
  if (key) return { grip: 'key', size: Number(key[1]), inch: false };
  const lobe = /^(T|E)(\d+)$/.exec(written);
  if (lobe) return { grip: lobe[1] === 'T' ? 'six-lobe' : 'six-lobe outside', size: Number(lobe[2]), inch: false };
  return null;
}

/**
 * Usual sizes for a thread and a kind of grip; null where there is no table (special plugs, unions, numbered threads).
 * @returns mm for hexagons and keys, sixteenths of an inch for inch hexagons, numbers of six-lobe sizes
 */
export function usualSizes(thread: string, grip: Grip): readonly number[] | null {
  if (isOtherThread(thread)) return null;
  const inch = /^(\d+(?:\/\d+)?)-\d+/.exec(thread.trim());
  if (inch) return grip === 'hexagon' ? (inchFlats[inch[1] ?? ''] ?? null) : null;
  const parsed = parseThread(thread);
  if (parsed?.system !== 'metric') return null;
  const table = { hexagon: metricFlats, key: metricKeys, 'six-lobe': metricLobes, 'six-lobe outside': metricOuter }[grip];
  return table[String(parsed.diameter)] ?? null;
}
