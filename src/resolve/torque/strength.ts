import { bare } from '../../bare.js';

/** What a property class promises, MPa, by nominal diameter, mm. */
interface Strength {
  readonly proof: (diameter: number) => number;
  /** Yield, or 0.2 % proof strength R_p0.2, minimum. */
  readonly yield: (diameter: number) => number;
  readonly source: string;
}

const row =
  (source: string, scale = 1) =>
  (proof: number, yields: number, above?: { readonly diameter: number; readonly proof: number; readonly yields: number }): Strength => ({
    proof: (d) => scale * (above && d > above.diameter ? above.proof : proof),
    yield: (d) => scale * (above && d > above.diameter ? above.yields : yields),
    source,
  });

const iso898 = row('ISO 898-1:2013 table 3');
const thinNut = row('ISO 898-2 (from memory)');
const kpsi = 6.894757293168361;
const sae = row('SAE J429', kpsi);

const classes: Readonly<Record<string, Strength>> = bare({
  '4.6': iso898(225, 240),
  '4.8': iso898(310, 340),
  '5.6': iso898(280, 300),
  '5.8': iso898(380, 420),
  '6.8': iso898(440, 480),
  '8.8': iso898(580, 640, { diameter: 16, proof: 600, yields: 660 }),
  '9.8': iso898(650, 720),
  '10.9': iso898(830, 940),
  '12.9': iso898(970, 1100),
  'grade 2': sae(55, 57, { diameter: 19.05, proof: 33, yields: 36 }),
  'grade 5': sae(85, 92, { diameter: 25.4, proof: 74, yields: 81 }),
  'grade 8': sae(120, 130),
  '04': thinNut(380, 380),
  '05': thinNut(500, 500),
});

/**
 * Stainless steels: the standard has no proof load, so that 0.2 % proof strength stands for both. Source: ISO 3506-1,
 * mechanical properties (from memory). Austenitic and duplex steels of a class are alike, others are not.
 */
const stainless = row('ISO 3506-1 (from memory)');
const austenitic: Readonly<Record<string, number>> = bare({ '50': 210, '70': 450, '80': 600, '100': 800 });
const otherStainless: Readonly<Record<string, number>> = bare({
  'C1-50': 250,
  'C1-70': 410,
  'C1-110': 820,
  'C3-80': 640,
  'C4-50': 250,
  'C4-70': 410,
  'F1-45': 250,
  'F1-60': 410,
});

function stainlessOf(name: string): Strength | null {
  const [, alike] = /^(?:A[1-58]|D[2468])-(\d+)$/.exec(name) ?? [];
  const strength = alike === undefined ? otherStainless[name] : austenitic[alike];
  return strength === undefined ? null : stainless(strength, strength);
}

/** The class of the stud or bolt that belongs to a nut class. Source: ISO 898-2, table 2 (from memory). */
const boltOfNut: Readonly<Record<string, string>> = bare({ '5': '5.8', '6': '6.8', '8': '8.8', '9': '9.8', '10': '10.9', '12': '12.9' });

/**
 * What a property class promises of the bolt, or of the stud that belongs to a nut; null where no standard has that class.
 */
export function strengthOf(propertyClass: string): Strength | null {
  const name = boltOfNut[propertyClass] ?? propertyClass;
  return classes[name] ?? stainlessOf(name);
}

/** Those that somebody may have meant. */
export const knownClasses: readonly string[] = [
  ...Object.keys(classes),
  ...Object.keys(boltOfNut),
  'A2-50',
  'A2-70',
  'A2-80',
  'A4-50',
  'A4-70',
  'A4-80',
];

/**
 * Proof stress in MPa.
 * @param propertyClass of the bolt, or of the nut (assessed with the stud that belongs to it)
 * @param diameter nominal diameter, mm
 */
export const proofStress = (propertyClass: string, diameter: number): number | null => strengthOf(propertyClass)?.proof(diameter) ?? null;

/**
 * Yield or 0.2 % proof strength R_p0.2 in MPa.
 * @param propertyClass of the bolt, or of the nut (assessed with the stud that belongs to it)
 * @param diameter nominal diameter, mm
 */
export const yieldStrength = (propertyClass: string, diameter: number): number | null => strengthOf(propertyClass)?.yield(diameter) ?? null;
