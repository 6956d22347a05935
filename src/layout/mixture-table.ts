import type { Fluid } from '../schema/generated/compiled-job.js';
import { type Block, plainStyle, type Style } from './blocks.js';
import { table } from './rows.js';
import { unitOf } from './amounts.js';
import type { Setting } from './setting.js';

/** Concentrate and water by what was drained and how strong it was, by the jugs of the shop, so that nobody needs a computer in the bay. */
export function mixtureTable(set: Setting, one: Fluid, mix: NonNullable<Fluid['mix']>, width: number, style: Style = plainStyle): Block[] {
  const { fluid } = set.words;
  const { strengths, rows } = (one.inShopUnit?.leads && one.inShopUnit.table) || mix.table;
  const columns = [
    { title: fluid.drainedColumn, share: 1.2 },
    ...strengths.map((strength) => ({ title: fluid.beforeColumn(set.figure(strength)), share: 1.6 })),
  ];
  const cells = rows.map((row) => [`${set.figure(row.drained)} ${unitOf(one)}`, ...row.cells.map(set.figure)]);
  return table(set, columns, cells, width, style);
}
