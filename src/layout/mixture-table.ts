import type { Fluid } from '../schema/generated/compiled-job.js';
import { type Block, plainStyle, type Style, table } from './blocks.js';
import type { Setting } from './setting.js';

/** Litres of concentrate and water by what was drained and how strong it was, so that nobody needs a computer in the bay. */
export function mixtureTable(set: Setting, mix: NonNullable<Fluid['mix']>, width: number, style: Style = plainStyle): Block[] {
  const { fluid } = set.words;
  const columns = [
    { title: fluid.drainedColumn, share: 1.2 },
    ...mix.table.strengths.map((strength) => ({ title: fluid.beforeColumn(set.figure(strength)), share: 1.6 })),
  ];
  const rows = mix.table.rows.map((row) => [`${set.figure(row.drained)} L`, ...row.cells.map(set.figure)]);
  return table(set, columns, rows, width, style);
}
