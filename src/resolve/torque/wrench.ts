import type { Decimal } from 'decimal.js';
import { inUnit, limitsIn, numberIn, type Quantity, nominalOf } from '../../quantity/quantity.js';
import { D } from '../../quantity/units.js';
import type { ShopDocument } from '../../library/document.js';

export type Tool = NonNullable<ShopDocument['tools']>[string];

export interface Wrench {
  readonly id: string;
  readonly tool: Tool;
  /** What to set on it, N·m. */
  readonly setting: Decimal;
}

export type Choice =
  | { readonly ok: true; readonly wrench: Wrench }
  | { readonly ok: false; readonly setting: Decimal; readonly why: string };

/**
 * What to set on the wrench when an adapter in line with its handle lengthens it: `S = T · L / (L + E·cos φ)`.
 * Source: NAVEDTRA 14315, and the lever rule. At 90° nothing changes.
 * @param target torque at the fastener, any unit (the result is in the same)
 * @param length L, from the middle of the handle to the square, mm; > 0
 * @param offset E, from the square to the middle of the fastener, mm
 * @param angle φ between adapter and handle, degrees
 */
export function settingWithAdapter(target: Decimal, length: Decimal, offset: Decimal, angle: number): Decimal {
  const turned = ((angle % 360) + 360) % 360;
  const cosine =
    turned === 90 || turned === 270
      ? new D(0)
      : turned === 0
        ? new D(1)
        : turned === 180
          ? new D(-1)
          : new D(Math.cos((turned * Math.PI) / 180));
  return target.times(length).div(length.plus(offset.times(cosine)));
}

/** Permissible deviation of a hand torque tool, %. Source: ISO 6789: ±4 % where its maximum is above 10 N·m, else ±6 %. */
export const standardDeviation = (maximum: Decimal): number => (maximum.gt(10) ? 4 : 6);

export function deviationOf(tool: Tool): number {
  if (tool.deviation) return nominalOf(tool.deviation).abs().toNumber();
  return standardDeviation(tool.range ? (limitsIn(tool.range, 'N·m').high ?? new D(0)) : new D(0));
}

/**
 * The torque tool for a value: of those whose certified range holds the setting (inclusive at both ends) and whose
 * certificate is in date, the one with the smallest full scale.
 * @param target torque at the fastener
 * @param date day of the job, year-month-day
 */
export function chooseWrench(target: Quantity, tools: Readonly<Record<string, Tool>>, adapterId: string | undefined, date: string): Choice {
  const value = inUnit(target, 'N·m');
  const adapter = adapterId ? tools[adapterId] : undefined;
  const candidates = Object.entries(tools)
    .filter(([, tool]) => tool.type === 'torque-wrench' && tool.range)
    .map(([id, tool]) => {
      const range = tool.range ? limitsIn(tool.range, 'N·m') : { low: null, high: null };
      const length = tool.length ? inUnit(tool.length, 'mm') : null;
      const setting =
        adapter?.offset && length
          ? settingWithAdapter(value, length, inUnit(adapter.offset, 'mm'), adapter.angle ? numberIn(adapter.angle, 'deg') : 0)
          : value;
      return { id, tool, low: range.low ?? new D(0), high: range.high ?? new D(0), setting };
    })
    .sort((a, b) => a.high.comparedTo(b.high) || (a.id < b.id ? -1 : 1));
  const covering = candidates.filter((one) => one.setting.gte(one.low) && one.setting.lte(one.high));
  const inDate = covering.filter((one) => one.tool.due === undefined || one.tool.due >= date);
  const best = inDate[0];
  if (best) return { ok: true, wrench: { id: best.id, tool: best.tool, setting: best.setting } };
  const setting = covering[0]?.setting ?? candidates[0]?.setting ?? value;
  if (covering.length > 0) {
    return {
      ok: false,
      setting,
      why: `${covering.map((one) => `${one.id} covers it, but its calibration was due on ${one.tool.due}`).join('; ')}. The job is dated ${date}.`,
    };
  }
  const ranges = candidates.map((one) => `${one.id} ${one.low.toString()} to ${one.high.toString()} N·m`).join(', ');
  return {
    ok: false,
    setting,
    why: `a certified range that holds ${setting.toDecimalPlaces(2).toString()} N·m is needed${ranges ? `; there is ${ranges}` : ', and the shop lists no torque wrench'}.`,
  };
}
