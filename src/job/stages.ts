import type { Decimal } from 'decimal.js';
import { whereIs } from '../findings/finding.js';
import { inUnit, limitsIn, nominalOf, quantityOf, type Quantity } from '../quantity/quantity.js';
import { convert, D, unitOf } from '../quantity/units.js';
import { ladderSteps } from '../resolve/torque/ladder.js';
import { loadRatio, thresholds } from '../resolve/torque/plausibility.js';
import { stageFromContact } from '../resolve/torque/contact.js';
import { chooseWrench, deviationOf, type Tool, type Use } from '../resolve/torque/wrench.js';
import type { Stage } from '../schema/generated/compiled-job.js';
import type { Fastener, Stage as RawStage } from '../schema/generated/types.js';
import { isWhole } from '../library/written.js';
import { spanOf } from '../schema/origin.js';
import type { Span } from '../source/source.js';
import type { JobContext } from './context.js';
import { bothTorques, limitText, quantityText, toleranceText, torqueNumber } from './format.js';

/** What every stage is compiled from. */
interface At {
  readonly context: JobContext;
  /** Code of the joint. */
  readonly code: string;
  readonly fastener: Fastener;
  /** Number of the stage, from 1. */
  readonly n: number;
  readonly count: number;
}

type Common = Omit<Stage, 'kind' | 'value' | 'written'>;
type Compiled = Pick<Stage, 'kind' | 'value' | 'written'> & Partial<Common>;

/** One stage with its figure in both units, the tool that serves and what to set on it, and its boxes. */
export function compileStage(context: JobContext, code: string, fastener: Fastener, stage: RawStage, n: number, count: number): Stage {
  return { ...plain(context, stage, n, count), ...figureOf({ context, code, fastener, n, count }, stage) };
}

function plain({ words }: JobContext, stage: RawStage, n: number, count: number): Common {
  return {
    n,
    tolerance: null,
    tool: null,
    setting: null,
    other: null,
    boxes: count,
    after: stage.after ?? null,
    distance: stage.distance ? quantityText(stage.distance, words) : null,
    onGround: stage.wheels === 'on-ground',
    at: stage.at ? limitText(stage.at, words) : null,
    rotate: stage.rotate ?? null,
    low: null,
    high: null,
    outside: stage.outside ?? null,
    ladder: null,
  };
}

/** What is done where a group has no figures: its one stage. */
export function stageOfMethod(context: JobContext, method: NonNullable<Fastener['method']>, count: number): Stage {
  return { ...plain(context, {}, 1, count), kind: 'method', value: context.words.job.methods[method], written: method };
}

function figureOf(at: At, stage: RawStage): Compiled {
  const words = at.context.words.job;
  if (stage.torque) return plainTorque(at, stage.torque, () => spanOf(stage, 'torque'));
  if (stage.angle) return turn(at, stage.angle, stage === stageFromContact(at.fastener.stages));
  if (stage['back-off'])
    return { kind: 'back-off', value: words.backOff(`${degreesOf(stage['back-off'])}°`), written: stage['back-off'].text };
  if (stage.wait) return { kind: 'wait', value: quantityText(stage.wait, at.context.words), written: stage.wait.text, boxes: 0 };
  if (stage.repeat) return again(at, stage, stage.repeat);
  if (stage.window) return window(at, stage.window, () => spanOf(stage, 'window'));
  if (stage.ladder) return ladder(at, stage.ladder, () => spanOf(stage, 'ladder'));
  const turns = stage['by-hand'];
  // Of a draft: what stood there could not be read.
  if (turns === undefined) return { kind: 'by-hand', value: words.unread, written: '?' };
  return { kind: 'by-hand', value: words.byHand(String(turns)), written: `${turns}` };
}

const shopUnit = (context: JobContext): string => context.shop['torque-unit'] ?? 'N·m';

/** The unit of what is set: that in which it was written, where the scale of the wrench is in it; else the shop's. */
const unitToSet = (context: JobContext, { unit }: Quantity, id: string | null): string => {
  const scale = id === null ? undefined : context.shop.tools?.[id]?.range?.unit;
  return scale === unit ? unit.symbol : shopUnit(context);
};

function plainTorque(at: At, torque: Quantity, place: () => Span): Compiled {
  const { tool, setting } = wrenchFor(at, torque, place);
  const unit = unitToSet(at.context, torque, tool);
  const { value, other } = bothTorques(torque, unit, shopUnit(at.context));
  at.context.working(() => ({
    of: `joints/${at.code}/stages/${at.n}/value`,
    formula: torque.unit.symbol === unit ? 'as written; the other unit by the exact factor' : 'as written × the exact factor of its unit',
    inputs: [
      { name: 'T', value: torque.text, from: whereIs(place()) },
      { name: 'factors', value: '1 lbf = 4.448 221 615 260 5 N, 1 in = 25.4 mm', from: 'NIST SP 811 (2008), appendix B.8' },
    ],
    result: `${value} (${other})`,
    rounding: 'as far as the wrench shows it, inside the tolerance',
  }));
  return {
    kind: 'torque',
    value,
    other,
    written: torque.text,
    tolerance: toleranceText(torque, unit, at.context.words),
    tool,
    setting,
  };
}

/** As fine as it can be turned: a third of a turn is no whole number of its digits. */
const degreesOf = (angle: Quantity): Decimal => inUnit(angle, 'deg').toDecimalPlaces(2);

function turn({ context }: At, angle: Quantity, isFromContact: boolean): Compiled {
  const words = context.words.job;
  const gauge = Object.entries(context.shop.tools ?? {}).find(([, tool]) => tool.type === 'angle-gauge');
  const degrees = degreesOf(angle);
  const quarters = degrees.mod(90).isZero() ? (['', '¼', '½', '¾', '1'][degrees.div(90).toNumber()] ?? '') : '';
  const other = quarters ? words.turn(quarters) : null;
  // By hand, or with what grips it: nothing that a gauge could stand on.
  if (isFromContact)
    return { kind: 'from-contact', value: words.fromContact(`${degrees}°`), other, written: angle.text, tool: words.paintMark };
  const tool = gauge ? (gauge[1].name ?? gauge[0]) : words.paintMark;
  return { kind: 'angle', value: `${degrees}°`, other, written: angle.text, tool };
}

/** By how much a joint is turned altogether after its torque, or after it was turned back: what it must have been in the end. */
export function totalAngle(stages: readonly Stage[]): string | null {
  const inTheJob = stages.filter((stage) => !stage.after);
  const turned = inTheJob.slice(inTheJob.findLastIndex((stage) => stage.kind === 'back-off') + 1);
  const angles = turned.flatMap(({ kind, value }) => (kind === 'angle' || kind === 'repeat' ? (/^([\d.]+)°$/.exec(value)?.[1] ?? []) : []));
  return angles.length > 1 ? `${D.sum(...angles)}°` : null;
}

/** A second pass: the same figure, tool and setting as the stage that it repeats. */
function again(at: At, stage: RawStage, n: number): Compiled {
  const repeated = at.fastener.stages?.[n - 1];
  if (!repeated || repeated.repeat) {
    const last = at.fastener.stages?.length ?? 0;
    at.context.report(
      'torque/no-such-stage',
      `Stage ${n} cannot be repeated: ${repeated ? 'it only repeats another' : `there are ${last} stages`}. Write the number of a stage with a torque or an angle.`,
      spanOf(stage, 'repeat'),
    );
    return { kind: 'repeat', value: at.context.words.job.again(n), written: `${n}`, boxes: at.count };
  }
  return { ...figureOf({ ...at, n }, repeated), kind: 'repeat', written: `${n}` };
}

/** The last reading of each fastener is written down: a yielding bolt gives too low a one. */
function window(at: At, range: Quantity, place: () => Span): Compiled {
  const highest = quantityOf(range.high ?? nominalOf(range), range.unit.symbol);
  const { tool, setting } = wrenchFor(at, highest, place);
  const unit = unitToSet(at.context, range, tool);
  const limits = limitsIn(range, unit);
  // Readings are held against what stands on the paper.
  const low = torqueNumber(limits.low ?? new D(0));
  const high = torqueNumber(limits.high ?? limits.low ?? new D(0));
  const value = at.context.words.limit.range(low, high, unit);
  return { kind: 'window', value, written: range.text, boxes: 0, tool, setting, low, high };
}

function ladder(at: At, written: NonNullable<RawStage['ladder']>, place: () => Span): Compiled {
  const top = wrenchFor(at, written.to, place);
  const unit = unitToSet(at.context, written.to, top.tool);
  const steps = ladderSteps(inUnit(written.from, unit), inUnit(written.step, unit), inUnit(written.to, unit));
  const { words } = at.context;
  const { scope } = at.context.plan;
  const measurement = scope.measurements.get(written.until);
  if (!measurement)
    at.context.report(
      'torque/ladder-without-end',
      `\`${written.until}\`, which ends this ladder, is not a measurement that is declared. Declare it under \`measurements:\` with its limit.`,
      spanOf(written, 'until'),
    );
  const tools = [
    ...new Set(
      [startsWith(at, written.from, top.tool) ?? wrenchFor(at, written.from, place).tool, top.tool].filter((tool) => tool !== null),
    ),
  ];
  const torques = steps.map((value) => torqueNumber(value));
  return {
    kind: 'ladder',
    value: words.limit.range(torques[0] ?? '', torques.at(-1) ?? '', unit),
    other: words.job.ladderStep(`${torqueNumber(inUnit(written.step, unit))} ${unit}`),
    written: words.job.ladderWritten(written.from.text, written.step.text, written.to.text),
    tool: tools.join(', ') || null,
    boxes: torques.length,
    low: measurement?.limit?.low?.toString() ?? null,
    high: measurement?.limit?.high?.toString() ?? null,
    ladder: {
      torques: torques.map((value) => `${value} ${unit}`),
      until: measurement?.name ?? written.until,
      limit: measurement?.limit ? limitText(measurement.limit, words) : '',
    },
  };
}

/** One wrench for the whole ladder where the one of the last row reaches down to the first. */
function startsWith({ context, fastener }: At, from: Quantity, id: string | null): string | null {
  const tool = id ? context.shop.tools?.[id] : undefined;
  if (!id || !tool) return null;
  return chooseWrench(withPrevailing(fastener, from), { [id]: tool }, useOf(context, { ...fastener, adapter: undefined })).ok ? id : null;
}

/** What has to be dialled at the fastener: the torque, and on top the running torque of a locking nut where it is not in it. */
function withPrevailing(fastener: Fastener, torque: Quantity): Quantity {
  const { prevailing } = fastener;
  if (prevailing?.counts !== 'added') return torque;
  const more = convert(nominalOf(prevailing.torque), prevailing.torque.unit, torque.unit);
  const up = (value: Quantity['low']) => value?.plus(more) ?? null;
  return { ...torque, nominal: up(torque.nominal), low: up(torque.low), high: up(torque.high) };
}

const useOf = ({ job }: JobContext, { adapter, hand }: Pick<Fastener, 'adapter' | 'hand'>): Use => ({
  adapter,
  date: job.date,
  isLeftHand: hand === 'left',
});

function wrenchFor(
  { context, code, fastener, n }: At,
  torque: Quantity,
  place: () => Span,
): { tool: string | null; setting: string | null } {
  const tools: Readonly<Record<string, Tool>> = context.shop.tools ?? {};
  const aim = withPrevailing(fastener, torque);
  const choice = chooseWrench(aim, tools, useOf(context, fastener));
  if (!choice.ok) {
    // A torque that the bolt cannot hold needs another figure, and no larger wrench.
    if ((loadRatio(fastener) ?? 0) > thresholds.cannotHold) return { tool: null, setting: null };
    // What could not be read of the shop may be the wrench; that is told there.
    if (!isWhole(context.shop, 'tools')) return { tool: null, setting: null };
    if (choice.why === null)
      context.report(
        'tool/no-wrench',
        'The shop lists no torque wrench, and there are torques to set. Add each to `tools:` of shop.yaml, for example `W-1: { type: torque-wrench, range: 20..200 N·m, length: 450 mm, due: "2028-06-30" }`.',
        spanOf(context.shop, 'tools', 'key'),
      );
    else
      context.report(
        'tool/no-wrench',
        `No torque wrench of the shop can be used for ${torque.text}: ${choice.why}`,
        place(),
        'error',
        torque.text,
      );
    return { tool: null, setting: null };
  }
  const { wrench } = choice;
  const target = inUnit(aim, 'N·m');
  const limits = limitsIn(torque, 'N·m');
  const tolerance = limits.low && limits.high && target.gt(0) ? limits.high.minus(limits.low).div(2).div(target).times(100).toNumber() : 10;
  const deviation = deviationOf(wrench.tool);
  if (deviation > tolerance + 1e-9) {
    context.report(
      'tool/too-coarse',
      `${wrench.id} may be off by ±${deviation} %, but ${torque.text} allows only ±${tolerance.toFixed(1)} %. Use a tool with a better certificate, and write its \`deviation:\` in shop.yaml.`,
      place(),
      'warning',
    );
  }
  if (wrench.isDirectionUnsaid)
    context.report(
      'tool/direction-unsaid',
      `The thread is left-hand: it is tightened anticlockwise, and nothing says that \`${wrench.id}\` measures that way. Look at its certificate, and write \`direction: both\` or \`direction: clockwise\` at it in shop.yaml.`,
      place(),
      'warning',
      wrench.id,
    );
  if (wrench.overloads)
    context.report(
      'tool/square-overloaded',
      `${torque.text} is more than a ${wrench.tool.square} square carries (${wrench.overloads} N·m). Take a wrench with a larger square.`,
      place(),
      'warning',
    );
  const written = inUnit(torque, 'N·m');
  if (wrench.setting.eq(written)) return { tool: wrench.id, setting: null };
  const unit = unitOf(unitToSet(context, torque, wrench.id));
  const shown = `${torqueNumber(convert(wrench.setting, unitOf('N·m'), unit))} ${unit.symbol}`;
  const adapter = tools[fastener.adapter ?? ''];
  const { prevailing } = fastener;
  context.working(() => ({
    of: `joints/${code}/stages/${n}/setting`,
    formula: `S = ${prevailing?.counts === 'added' ? '(T + T_p)' : 'T'}${adapter ? ' · L / (L + E · cos φ)' : ''}`,
    inputs: [
      { name: 'T', value: torque.text, from: whereIs(place()) },
      ...(prevailing?.counts === 'added'
        ? [{ name: 'T_p', value: prevailing.torque.text, from: whereIs(spanOf(prevailing, 'torque')) }]
        : []),
      ...(adapter
        ? [
            { name: 'L', value: wrench.tool.length?.text ?? '', from: `${whereIs(spanOf(wrench.tool, 'length'))}, ${wrench.id}` },
            {
              name: 'E, φ',
              value: `${adapter.offset?.text ?? ''}, ${adapter.angle?.text ?? '0 deg'}`,
              from: whereIs(spanOf(adapter, 'offset')),
            },
          ]
        : []),
    ],
    result: shown,
    rounding: 'two places',
  }));
  return { tool: wrench.id, setting: shown };
}
