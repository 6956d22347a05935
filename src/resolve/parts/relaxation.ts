/** Something that gives pieces of several items at once: its price, and which items with how many of each. */
export interface Column {
  readonly price: number;
  readonly contains: readonly (readonly [item: number, pieces: number])[];
}

export interface Relaxed {
  /** Nothing that covers the demand can cost less. Infinity where an item cannot be had. */
  readonly bound: number;
  /** How much of each column the relaxation buys, not whole. */
  readonly amounts: readonly number[];
  /** How much dearer than the bound every cover is that buys one of a column: its reduced cost. */
  readonly dearer: readonly number[];
  /** Numbers computed on the way, for who must stop after so many. */
  readonly work: number;
}

const tiny = 1e-9;

/** Numbers that one relaxation computes at most. */
const mostNumbers = 100_000_000;

/**
 * The linear relaxation of a covering problem (least price, at least the demand, amounts ≥ 0), through its dual: what a
 * piece of each item is worth, u. It asks for the greatest demand·u where no column is worth more than its price
 * (Σ u·pieces ≤ price) and no piece more than it costs alone (0 ≤ u ≤ alone). It starts where nothing is worth anything,
 * so that what items cost alone are bounds of its unknowns and no rows of it (simplex method with bounded variables,
 * Dantzig 1955; with Bland's rule after a while).
 * @param demand pieces of each item, > 0 where it is wanted
 * @param alone the least that a piece of each item costs by itself; Infinity where it is not sold so
 */
export function relax(demand: readonly number[], alone: readonly number[], columns: readonly Column[]): Relaxed {
  const m = columns.length;
  const n = demand.length;
  const width = n + 1;
  // Row i: Σ contains·u + slack = price. The last row is the objective, negated.
  const tableau = new Float64Array((m + 1) * width);
  for (let i = 0; i < m; i++) {
    for (const [j, pieces] of columns[i]?.contains ?? []) tableau[i * width + j] = pieces;
    tableau[i * width + n] = columns[i]?.price ?? 0;
  }
  for (let j = 0; j < n; j++) tableau[m * width + j] = -(demand[j] ?? 0);
  // Labels: items are 0 … n−1, slacks of columns n … n+m−1. An item that has reached its bound is counted down from it.
  const inColumn = Array.from({ length: n }, (_, j) => j);
  const inRow = Array.from({ length: m }, (_, i) => n + i);
  const most = (label: number | undefined): number =>
    label === undefined ? Number.POSITIVE_INFINITY : (alone[label] ?? Number.POSITIVE_INFINITY);
  const at = (i: number, j: number): number => tableau[i * width + j] ?? 0;
  // Each step raises the bound, so that it holds also where the way to the best is too long to go to its end.
  const steps = Math.min(5000, Math.ceil(mostNumbers / tableau.length));
  let work = 0;
  for (let step = 0; step < steps; step++) {
    let enter = -1;
    let steepest = -tiny;
    for (let j = 0; j < n; j++) {
      const value = at(m, j);
      if (value >= steepest) continue;
      if (step > 500) {
        if (enter === -1 || (inColumn[j] ?? 0) < (inColumn[enter] ?? 0)) enter = j;
        continue;
      }
      steepest = value;
      enter = j;
    }
    if (enter === -1) break;
    let leave = -1;
    let least = most(inColumn[enter]);
    for (let i = 0; i < m; i++) {
      const value = at(i, enter);
      if (Math.abs(value) <= tiny) continue;
      const ratio = (value > 0 ? at(i, n) : at(i, n) - most(inRow[i])) / value;
      if (ratio < least - tiny || (ratio < least + tiny && leave >= 0 && (inRow[i] ?? 0) < (inRow[leave] ?? 0))) {
        least = ratio;
        leave = i;
      }
    }
    if (least === Number.POSITIVE_INFINITY) return { bound: least, amounts: [], dearer: [], work };
    if (leave === -1) {
      fromItsBound(tableau, m, width, enter, least);
      work += m + 1;
      continue;
    }
    if (at(leave, enter) < 0) downFromBound(tableau, width, leave, most(inRow[leave]));
    pivot(tableau, m, width, leave, enter);
    work += tableau.length;
    const label = inRow[leave] ?? 0;
    inRow[leave] = inColumn[enter] ?? 0;
    inColumn[enter] = label;
  }
  return { ...result(m, n, at, inColumn, inRow), work };
}

/** Raises an unknown that is zero to its bound, from which it is counted down. */
function fromItsBound(tableau: Float64Array, m: number, width: number, column: number, bound: number): void {
  for (let i = 0; i <= m; i++) {
    const place = i * width + column;
    const value = tableau[place] ?? 0;
    const right = i * width + width - 1;
    tableau[right] = (tableau[right] ?? 0) - value * bound;
    tableau[place] = -value;
  }
}

/** Counts an unknown that is not zero down from its bound. */
function downFromBound(tableau: Float64Array, width: number, row: number, bound: number): void {
  const right = row * width + width - 1;
  for (let at = row * width; at < right; at++) tableau[at] = -(tableau[at] ?? 0);
  tableau[right] = bound - (tableau[right] ?? 0);
}

function result(
  m: number,
  n: number,
  at: (i: number, j: number) => number,
  inColumn: readonly number[],
  inRow: readonly number[],
): Omit<Relaxed, 'work'> {
  const amounts: number[] = new Array(m).fill(0);
  for (let j = 0; j < n; j++) {
    const label = inColumn[j] ?? 0;
    if (label >= n) amounts[label - n] = at(m, j);
  }
  const dearer: number[] = new Array(m).fill(0);
  for (let i = 0; i < m; i++) {
    const label = inRow[i] ?? 0;
    if (label >= n) dearer[label - n] = Math.max(0, at(i, n));
  }
  return { bound: at(m, n), amounts, dearer };
}

/** Exchanges a row and a column of the condensed tableau. */
function pivot(tableau: Float64Array, m: number, width: number, row: number, column: number): void {
  const start = row * width;
  const inverse = 1 / (tableau[start + column] ?? 1);
  for (let i = 0; i <= m; i++) {
    if (i === row) continue;
    const factor = tableau[i * width + column] ?? 0;
    if (factor === 0) continue;
    const scaled = factor * inverse;
    for (let j = 0; j < width; j++) {
      if (j !== column) tableau[i * width + j] = (tableau[i * width + j] ?? 0) - scaled * (tableau[start + j] ?? 0);
    }
    tableau[i * width + column] = -scaled;
  }
  for (let j = 0; j < width; j++) if (j !== column) tableau[start + j] = (tableau[start + j] ?? 0) * inverse;
  tableau[start + column] = inverse;
}
