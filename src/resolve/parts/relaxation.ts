/** A column of a covering problem: its price and how many pieces of each item it gives, by item number. */
export interface Column {
  readonly price: number;
  readonly contains: readonly number[];
}

export interface Relaxed {
  /** Nothing that covers the demand can cost less. Infinity where an item has no column. */
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
 * The linear relaxation of a covering problem (least price, at least the demand, amounts ≥ 0), through its dual
 * (max demand·u with Σ u·pieces ≤ price), which starts feasible. Simplex method of Dantzig, with Bland's rule after a while.
 * @param demand pieces of each item, > 0 where it is wanted
 */
export function relax(demand: readonly number[], columns: readonly Column[]): Relaxed {
  const m = columns.length;
  const n = demand.length;
  const width = n + 1;
  // Row i: Σ contains·u + slack = price. The last row is the objective, negated.
  const tableau = new Float64Array((m + 1) * width);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < n; j++) tableau[i * width + j] = columns[i]?.contains[j] ?? 0;
    tableau[i * width + n] = columns[i]?.price ?? 0;
  }
  for (let j = 0; j < n; j++) tableau[m * width + j] = -(demand[j] ?? 0);
  // Labels: items are 0 … n−1, slacks of columns n … n+m−1.
  const inColumn = Array.from({ length: n }, (_, j) => j);
  const inRow = Array.from({ length: m }, (_, i) => n + i);
  const at = (i: number, j: number): number => tableau[i * width + j] ?? 0;
  // Each step raises the bound, so that it holds also where the way to the best is too long to go to its end.
  const most = Math.min(5000, Math.ceil(mostNumbers / tableau.length));
  for (let pivots = 0; pivots < most; pivots++) {
    let enter = -1;
    let steepest = -tiny;
    for (let j = 0; j < n; j++) {
      const value = at(m, j);
      if (value >= steepest) continue;
      if (pivots > 500) {
        if (enter === -1 || (inColumn[j] ?? 0) < (inColumn[enter] ?? 0)) enter = j;
        continue;
      }
      steepest = value;
      enter = j;
    }
    if (enter === -1) return { ...result(m, n, at, inColumn, inRow), work: pivots * tableau.length };
    let leave = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < m; i++) {
      const value = at(i, enter);
      if (value <= tiny) continue;
      const ratio = at(i, n) / value;
      if (ratio < least - tiny || (ratio < least + tiny && leave >= 0 && (inRow[i] ?? 0) < (inRow[leave] ?? 0))) {
        least = ratio;
        leave = i;
      }
    }
    if (leave === -1) return { bound: Number.POSITIVE_INFINITY, amounts: [], dearer: [], work: pivots * tableau.length };
    pivot(tableau, m, width, leave, enter);
    const label = inRow[leave] ?? 0;
    inRow[leave] = inColumn[enter] ?? 0;
    inColumn[enter] = label;
  }
  return { ...result(m, n, at, inColumn, inRow), work: most * tableau.length };
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
