import { D } from '../../quantity/units.js';
import type { Decimal } from 'decimal.js';

export type Glycol = 'ethylene' | 'propylene';

/**
 * Freezing points: share by volume in %, °C. Source: ASHRAE Handbook Fundamentals 2001, chapter 21, glycol tables.
 * Checked in tests against tests/reference/glycol_freezing.csv, and against the polynomial of Melinder 2010.
 */
const tables: Readonly<Record<Glycol, readonly (readonly [share: number, celsius: number])[]>> = {
  ethylene: [
    [0, 0],
    [4.4, -1.4],
    [8.9, -3.2],
    [13.6, -5.4],
    [18.1, -7.8],
    [19.2, -8.4],
    [20.1, -8.9],
    [21, -9.5],
    [22, -10.2],
    [22.9, -10.7],
    [23.9, -11.4],
    [24.8, -12],
    [25.8, -12.7],
    [26.7, -13.3],
    [27.7, -14.1],
    [28.7, -14.8],
    [29.6, -15.4],
    [30.6, -16.2],
    [31.6, -17],
    [32.6, -17.9],
    [33.5, -18.6],
    [34.5, -19.4],
    [35.5, -20.3],
    [36.5, -21.3],
    [37.5, -22.3],
    [38.5, -23.2],
    [39.5, -24.3],
    [40.5, -25.3],
    [41.5, -26.4],
    [42.5, -27.5],
    [43.5, -28.8],
    [44.5, -29.8],
    [45.5, -31.1],
    [46.6, -32.6],
    [47.6, -33.8],
    [48.6, -35.1],
    [49.6, -36.4],
    [50.6, -37.9],
    [51.6, -39.3],
    [52.7, -41.1],
    [53.7, -42.6],
    [54.7, -44.2],
    [55.7, -45.6],
    [56.8, -47.1],
    [57.8, -48.3],
  ],
  propylene: [
    [0, 0],
    [4.8, -1.6],
    [9.6, -3.3],
    [14.5, -5.1],
    [19.4, -7.1],
    [20.4, -7.6],
    [21.4, -8],
    [22.4, -8.6],
    [23.4, -9.1],
    [24.4, -9.6],
    [25.3, -10.2],
    [26.4, -10.8],
    [27.4, -11.4],
    [28.4, -12],
    [29.4, -12.7],
    [30.4, -13.4],
    [31.4, -14.1],
    [32.4, -14.8],
    [33.5, -15.6],
    [34.4, -16.4],
    [35.5, -17.3],
    [36.5, -18.2],
    [37.5, -19.1],
    [38.5, -20.1],
    [39.6, -21.1],
    [40.6, -22.1],
    [41.6, -23.2],
    [42.6, -24.3],
    [43.7, -25.5],
    [44.7, -26.7],
    [45.7, -27.9],
    [46.8, -29.3],
    [47.8, -30.6],
    [48.9, -32.1],
    [49.9, -33.5],
    [50.9, -35],
    [51.9, -36.6],
    [53, -38.2],
    [54, -39.8],
    [55, -41.6],
    [56, -43.3],
    [57, -45.2],
    [58, -47.1],
    [59, -49],
    [60, -51.1],
  ],
};

/**
 * Freezing point of a glycol and water mixture, °C, by proportion between the rows of the table.
 * @param share of glycol by volume, 0 … 1
 * @returns null outside the table
 */
export function freezingPoint(glycol: Glycol, share: Decimal): Decimal | null {
  const percent = share.times(100);
  const rows = tables[glycol];
  const above = rows.findIndex(([at]) => percent.lte(at));
  if (above < 0 || percent.lt(0)) return null;
  const high = rows[above];
  const low = rows[Math.max(0, above - 1)];
  if (!high || !low) return null;
  if (high === low) return new D(high[1]);
  const part = percent.minus(low[0]).div(new D(high[0]).minus(low[0]));
  return new D(low[1]).plus(part.times(new D(high[1]).minus(low[1])));
}
