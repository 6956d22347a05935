import { bare } from '../../bare.js';
import type { Decimal } from 'decimal.js';
import { inUnit, limitsIn, numberIn, type Quantity, nominalOf } from '../../quantity/quantity.js';
import { convert, D, unitOf } from '../../quantity/units.js';
import type { ShopDocument } from '../../library/document.js';
import { once } from '../../once.js';

export type Tool = NonNullable<ShopDocument['tools']>[string];

export interface Wrench {
  readonly id: string;
  readonly tool: Tool;
  /** What to set on it, N·m. */
  readonly setting: Decimal;
  /** What its square carries, N·m, where the setting is more. */
  readonly overloads: number | null;
  /** Whether it is turned anticlockwise, and nothing says that it measures that way. */
  readonly isDirectionUnsaid: boolean;
}

/** What a torque is set with and when. */
export interface Use {
  /** An adapter of the list. */
  readonly adapter?: string | undefined;
  /** Day of the job, year-month-day. */
  readonly date: string;
  /** A left-hand thread is tightened anticlockwise: many wrenches do not measure then (ISO 6789 certifies each direction by itself; from memory). */
  readonly isLeftHand?: boolean;
}

export type Choice =
  | { readonly ok: true; readonly wrench: Wrench }
  /** Why not; null where the list has no torque wrench at all. */
  | { readonly ok: false; readonly setting: Decimal; readonly why: string | null };

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
const standardDeviation = (maximum: Decimal): number => (maximum.gt(10) ? 4 : 6);

export function deviationOf(tool: Tool): number {
  if (tool.deviation) return nominalOf(tool.deviation).abs().toNumber();
  return standardDeviation(tool.range ? (limitsIn(tool.range, 'N·m').high ?? new D(0)) : new D(0));
}

/**
 * What a square drive carries, N·m. Source: ISO 3315 / ISO 1711-1, smallest test torques (from memory).
 */
const squares: Readonly<Record<string, number>> = bare({ '1/4 in': 62, '3/8 in': 203, '1/2 in': 512, '3/4 in': 1412, '1 in': 2515 });

/**
 * The range in which a tool may be used, N·m: what its certificate says, or from 20 % of its maximum.
 * Source: ISO 6789 (type II tools are checked at 20, 60 and 100 % of their maximum).
 */
export function usableRange(tool: Tool): { readonly low: Decimal; readonly high: Decimal } {
  const scale = tool.range ? limitsIn(tool.range, 'N·m') : { low: null, high: null };
  const certified = tool.certified ? limitsIn(tool.certified, 'N·m') : null;
  const high = certified?.high ?? scale.high ?? new D(0);
  return { low: certified?.low ?? D.max(scale.low ?? 0, high.times('0.2')), high };
}

interface Usable {
  readonly id: string;
  readonly tool: Tool;
  readonly low: Decimal;
  readonly high: Decimal;
}

const known = new WeakMap<object, readonly Usable[]>();

/** The torque wrenches of a list, that with the smallest full scale first. */
const wrenchesIn = (tools: Readonly<Record<string, Tool>>): readonly Usable[] =>
  once(known, tools, () =>
    Object.entries(tools)
      .filter(([, tool]) => tool.type === 'torque-wrench' && tool.range)
      .map(([id, tool]) => ({ id, tool, ...usableRange(tool) }))
      .sort((a, b) => a.high.comparedTo(b.high) || (a.id < b.id ? -1 : 1)),
  );

/**
 * The torque tool for a value: of those whose certified range holds the setting (inclusive at both ends), that measure in the
 * direction in which it is turned and whose certificate is in date, the one with the smallest full scale; of a left-hand
 * thread one that is said to measure anticlockwise before others.
 * @param target torque at the fastener
 */
export function chooseWrench(
  target: Quantity,
  tools: Readonly<Record<string, Tool>>,
  { adapter: id, date, isLeftHand = false }: Use,
): Choice {
  const value = inUnit(target, 'N·m');
  const adapter = id ? tools[id] : undefined;
  const candidates = wrenchesIn(tools).map((one) => {
    const length = adapter?.offset && one.tool.length ? inUnit(one.tool.length, 'mm') : null;
    const setting =
      adapter?.offset && length
        ? settingWithAdapter(value, length, inUnit(adapter.offset, 'mm'), adapter.angle ? numberIn(adapter.angle, 'deg') : 0)
        : value;
    return { ...one, setting };
  });
  const covering = candidates.filter((one) => one.setting.gte(one.low) && one.setting.lte(one.high));
  const turning = isLeftHand ? covering.filter(({ tool }) => tool.direction !== 'clockwise') : covering;
  const inDate = turning.filter((one) => one.tool.due === undefined || one.tool.due >= date);
  const best = (isLeftHand ? inDate.find(({ tool }) => tool.direction === 'both') : undefined) ?? inDate[0];
  if (best) {
    const { tool, setting } = best;
    const isDirectionUnsaid = isLeftHand && tool.direction === undefined;
    return { ok: true, wrench: { id: best.id, tool, setting, overloads: overloaded(tool, setting), isDirectionUnsaid } };
  }
  const setting = covering[0]?.setting ?? candidates[0]?.setting ?? value;
  if (covering.length > 0 && turning.length === 0)
    return {
      ok: false,
      setting,
      why: `the thread is left-hand, and ${covering.map((one) => one.id).join(', ')} ${covering.length > 1 ? 'measure' : 'measures'} clockwise alone. Add one that measures both ways to \`tools:\` in shop.yaml.`,
    };
  if (turning.length > 0) {
    return {
      ok: false,
      setting,
      why: `${turning.map((one) => `${one.id} covers it, but its calibration was due on ${one.tool.due}`).join('; ')}. The job is dated ${date}. Have it calibrated, and correct \`due:\`.`,
    };
  }
  if (candidates.length === 0) return { ok: false, setting, why: null };
  const { unit } = target;
  // In the unit in which the torque is written.
  const said = (torque: Decimal): string => {
    const value = convert(torque, unitOf('N·m'), unit);
    return value.toDecimalPlaces(value.lt(100) ? 2 : 1).toString();
  };
  const ranges = candidates.map((one) => `${one.id} ${said(one.low)} to ${said(one.high)} ${unit.symbol}`).join(', ');
  return {
    ok: false,
    setting,
    why: `a certified range that holds ${said(setting)} ${unit.symbol} is needed; there is ${ranges}.${candidates.some(isCut) ? ' Without `certified:` a wrench counts from a fifth of its maximum.' : ''} Add one to \`tools:\` in shop.yaml.`,
  };
}

/** Whether a tool has a scale that begins below what may be used of it. */
const isCut = ({ tool, low }: Usable): boolean =>
  !tool.certified && tool.range !== undefined && low.gt(limitsIn(tool.range, 'N·m').low ?? 0);

function overloaded(tool: Tool, setting: Decimal): number | null {
  const carries = squares[tool.square ?? ''];
  return carries !== undefined && setting.gt(carries) ? carries : null;
}
