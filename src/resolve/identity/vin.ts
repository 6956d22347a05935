/** Values of the letters. Source: 49 CFR 565.15, table III (I, O and Q are not used). */
const letters: Readonly<Record<string, number>> = {
  A: 1,
  B: 2,
  C: 3,
  D: 4,
  E: 5,
  F: 6,
  G: 7,
  H: 8,
  J: 1,
  K: 2,
  L: 3,
  M: 4,
  N: 5,
  P: 7,
  R: 9,
  S: 2,
  T: 3,
  U: 4,
  V: 5,
  W: 6,
  X: 7,
  Y: 8,
  Z: 9,
};

/** Weights of the seventeen places. Source: 49 CFR 565.15, table IV. */
const weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/**
 * The check digit that a vehicle identification number of North America has in its ninth place: 0 to 9 or X.
 * Elsewhere that place is free. Source: 49 CFR 565.15.
 * @param vin 17 characters, upper case, without I, O, Q
 */
export function checkDigit(vin: string): string {
  const sum = [...vin].reduce((total, sign, place) => total + (letters[sign] ?? Number(sign)) * (weights[place] ?? 0), 0);
  return sum % 11 === 10 ? 'X' : String(sum % 11);
}
