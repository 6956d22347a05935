import { bare } from '../../bare.js';
const kpsi = 6.894757293168361;

/** Proof stress, MPa, below or up to a diameter and above it. Source: ISO 898-1:2013, table 3; SAE J429. */
const proofStresses: Readonly<Record<string, (diameter: number) => number>> = bare({
  '4.6': () => 225,
  '4.8': () => 310,
  '5.6': () => 280,
  '5.8': () => 380,
  '6.8': () => 440,
  '8.8': (d) => (d <= 16 ? 580 : 600),
  '9.8': () => 650,
  '10.9': () => 830,
  '12.9': () => 970,
  'grade 2': (d) => (d <= 19.05 ? 55 : 33) * kpsi,
  'grade 5': (d) => (d <= 25.4 ? 85 : 74) * kpsi,
  'grade 8': () => 120 * kpsi,
});

/** The class of the stud or bolt that belongs to a nut class. Source: ISO 898-2, table 2 (from memory). */
const boltOfNut: Readonly<Record<string, string>> = bare({ '5': '5.8', '6': '6.8', '8': '8.8', '9': '9.8', '10': '10.9', '12': '12.9' });

/** The bolt class that a property class stands for; null where it is not known. */
export function boltClass(text: string): string | null {
  const name = boltOfNut[text] ?? text;
  return Object.hasOwn(proofStresses, name) ? name : null;
}

export const knownClasses: readonly string[] = [...Object.keys(proofStresses), ...Object.keys(boltOfNut)];

/**
 * Proof stress in MPa.
 * @param propertyClass of the bolt, or of the nut (assessed with the stud that belongs to it)
 * @param diameter nominal diameter, mm
 */
export function proofStress(propertyClass: string, diameter: number): number | null {
  const name = boltClass(propertyClass);
  return name === null ? null : (proofStresses[name]?.(diameter) ?? null);
}

/** Yield or 0.2 % proof strength, MPa, minimum. Source: ISO 898-1:2013, table 3; SAE J429. */
const yields: Readonly<Record<string, (diameter: number) => number>> = bare({
  '4.6': () => 240,
  '4.8': () => 340,
  '5.6': () => 300,
  '5.8': () => 420,
  '6.8': () => 480,
  '8.8': (d) => (d <= 16 ? 640 : 660),
  '9.8': () => 720,
  '10.9': () => 940,
  '12.9': () => 1100,
  'grade 2': (d) => (d <= 19.05 ? 57 : 36) * kpsi,
  'grade 5': (d) => (d <= 25.4 ? 92 : 81) * kpsi,
  'grade 8': () => 130 * kpsi,
});

/**
 * Yield or 0.2 % proof strength R_p0.2 in MPa.
 * @param propertyClass of the bolt, or of the nut (assessed with the stud that belongs to it)
 * @param diameter nominal diameter, mm
 */
export function yieldStrength(propertyClass: string, diameter: number): number | null {
  const name = boltClass(propertyClass);
  return name === null ? null : (yields[name]?.(diameter) ?? null);
}
