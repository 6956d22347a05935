import type { Decimal } from 'decimal.js';
import { nominalOf, type Quantity } from '../quantity/quantity.js';
import { convert, D, unitOf } from '../quantity/units.js';
import { refillTable } from '../resolve/fluids/mixture.js';
import type { Fluid as CompiledFluid } from '../schema/generated/compiled-job.js';
import type { Fluid } from '../schema/generated/types.js';
import type { JobContext } from './context.js';
import { litres, plainNumber } from './format.js';

type MixtureTable = NonNullable<CompiledFluid['mix']>['table'];

/** Shares of what is expected to come out: the rows of the table. */
const around = ['0.8', '0.9', '0.95', '1', '1.05'];
/** Strengths before, %: its columns. */
const before = [30, 35, 40, 45, 50];

/**
 * What to mix where something else came out than expected, or was weaker or stronger: concentrate / water.
 * @param drained what is expected to come out, L
 * @param target as a share
 * @param measured the strength before, where it was measured
 * @param unit a unit of volume: rows and cells are in it, rounded as its jugs are read
 */
export function mixtureTable(
  { words }: JobContext,
  fluid: Fluid,
  drained: Decimal,
  target: Decimal,
  measured: Quantity | undefined,
  unit: string,
): MixtureTable {
  const inUnit = (amount: Decimal): Decimal => convert(amount, unitOf('L'), unitOf(unit));
  const capacity = inUnit(litres(fluid.capacity));
  const expected = inUnit(drained);
  const places = unit.endsWith('gal') ? 2 : 1;
  const ways = (fluid.drains ?? []).map((way) => inUnit(litres(way.gives))).filter((value) => value.lt(expected));
  const rows = [
    ...ways.map((value) => value.toDecimalPlaces(places + 1)),
    ...around.map((share) => D.min(expected.times(share).toDecimalPlaces(places), capacity)),
  ];
  const columns = [...before.map((value) => new D(value)), ...(measured ? [nominalOf(measured)] : [])];
  const strengths = inOrder(columns);
  const table = refillTable(
    capacity,
    inOrder(rows).filter((value) => value.gt(0)),
    strengths.map((value) => value.div(100)),
    target,
  );
  return {
    strengths: strengths.map(String),
    rows: table.rows.map((row) => ({
      drained: plainNumber(row.drained, 2),
      cells: row.refills.map((one) => (one.reached ? `${one.concentrate.toFixed(2)} / ${one.water.toFixed(2)}` : words.job.notReached)),
    })),
  };
}

/** Each once, the smallest first. */
const inOrder = (values: readonly Decimal[]): Decimal[] =>
  [...new Map(values.map((value) => [value.toString(), value])).values()].sort((a, b) => a.comparedTo(b));
