import type { Joint, Stage } from '../schema/generated/compiled-job.js';
import {
  type Blank,
  type Block,
  beside,
  blank,
  blanks,
  figureStyle,
  framed,
  inset,
  paragraph,
  smallStyle,
  stack,
  textLine,
} from './blocks.js';
import { tick } from './rows.js';
import { boltMap, hasMap } from './bolt-map.js';
import { outlines } from './outlines.js';
import { element, type Limit, type Mark, type Piece, shift } from './page.js';
import type { Setting } from './setting.js';
import { asPart } from '../words/words.js';
import { box, sizes } from './style.js';

const present = (parts: readonly (string | null | undefined)[]): string[] => parts.filter((part) => part !== null && part !== undefined);

/**
 * `10 × M12x1.5x150 (10.9), E14, NEW, oiled`
 * @param isAgain whether it stayed tight and is tightened again: nothing of it is new or wetted then
 */
function jointWords(set: Setting, joint: Joint, isAgain: boolean): string {
  const { torque, threads, reuse } = set.words;
  const drive = joint.drive ? set.words.drive(joint.drive) : null;
  return present([
    `${joint.count} × ${joint.thread ?? drive ?? ''}${joint.class ? ` (${joint.class})` : ''}`.trim(),
    joint.leftHand ? torque.leftHand : null,
    joint.thread ? drive : null,
    isAgain ? null : joint.renew ? torque.fresh : joint.reuse && torque.usedAgain(joint.reuse === 'always' ? null : reuse(joint.reuse)),
    joint.threads && !isAgain ? torque.threads(threads[joint.threads] ?? joint.threads) : null,
    joint.counterHold ? torque.counterHold(joint.counterHold) : null,
    joint.prevailing ? set.figure(joint.prevailing) : null,
  ]).join(', ');
}

/** `after 80 km`: when a stage is done that comes later. */
export const whenAgain = (set: Setting, { after, distance }: Stage): string | null =>
  after && (distance ? set.words.job.dueAfter(set.figure(distance)) : (set.words.after[after] ?? after));

/** `60 N·m`, with the other unit, the tool and what to set on it. */
function stageFigure(set: Setting, stage: Stage): { readonly big: string; readonly small: string } {
  const { torque, step } = set.words;
  const { figure } = set;
  const tool = stage.tool ? (stage.setting ? torque.set(stage.tool, figure(stage.setting)) : stage.tool) : null;
  const turned = stage.kind === 'angle' || (stage.kind === 'repeat' && stage.value.endsWith('°'));
  return {
    big: `${turned ? '+' : ''}${figure(stage.value)}`,
    small: present([
      torque.kinds[stage.kind],
      stage.other ? `(${figure(stage.other)})` : null,
      tool,
      stage.tolerance ? figure(stage.tolerance) : null,
      whenAgain(set, stage),
      stage.onGround ? step.onGround : null,
      stage.at ? figure(stage.at) : null,
      stage.rotate ? torque.rotate(stage.rotate) : null,
    ]).join('  '),
  };
}

/**
 * The strip at the step where the wrench is in the hand: what, stages with a box for each fastener, and the map. Never split.
 * @param isAgain whether the joint stayed tight and is tightened again
 */
export function torqueStrip(set: Setting, joint: Joint, stages: readonly number[], isAgain: boolean, width: number): Block {
  const { torque } = set.words;
  const padding = 6;
  const inner = width - 2 * padding;
  const withMap = hasMap(joint) && stages.some((n) => (joint.stages[n - 1]?.boxes ?? 0) > 0);
  const mapWidth = withMap ? Math.min(joint.positions.length > 8 ? 220 : 150, inner * 0.42) : 0;
  const left = inner - mapWidth - (withMap ? 10 : 0);
  const title = paragraph(set, `${joint.code}  ${joint.name}`, left, { size: sizes.step, weight: 'bold' });
  const about = `${jointWords(set, joint, isAgain)}${joint.adapter ? `, ${torque.adapter(joint.adapter)}` : ''}${joint.boltByBolt ? `. ${torque.boltByBolt}` : ''}`;
  const shown = stages.flatMap((n) => joint.stages[n - 1] ?? []);
  const byBolt = joint.boltByBolt && shown.length > 1 && shown.every((stage) => stage.boxes === joint.count);
  const rows = byBolt ? [boltGrid(set, joint, shown, left)] : shown.map((stage) => stageRow(set, joint, stage, left));
  const small = (text: string): Block => paragraph(set, text, left, smallStyle);
  const play = joint.endPlay && shown.some((stage) => stage.kind === 'back-off') ? [small(torque.endPlay(set.figure(joint.endPlay)))] : [];
  const lastTurn = joint.stages.findLast(({ value, after }) => value.endsWith('°') && !after);
  const tail = [
    ...(joint.totalAngle && lastTurn && shown.includes(lastTurn) ? [small(torque.altogether(set.figure(joint.totalAngle)))] : []),
    ...(joint.cure && !isAgain ? [small(torque.cure(set.figure(joint.cure)))] : []),
    ...(joint.discardIf ? [small(torque.discardIf(asPart(joint.discardIf)))] : []),
  ];
  const body = stack([title, small(about), ...rows, ...play, ...(isAgain ? [] : outlines(set, joint, left)), ...tail], 3);
  if (!withMap) return framed(body, width, padding);
  const map = boltMap(set, joint, mapWidth, Math.max(90, body.height));
  return framed(
    beside([
      { x: 0, block: body },
      { x: left + 10, block: map },
    ]),
    width,
    padding,
  );
}

/** The box of a fastener and a stage, with the fastener's number in it where there are several. */
function boltBox(set: Setting, joint: Joint, stage: Stage, bolt: number, x: number, y: number, numbered: boolean): Piece {
  const label = set.words.torque.bolt(joint.code, stage.n, bolt);
  const side = tick(`${joint.code}/${stage.n}/${bolt}`, label, x, y);
  if (!numbered) return side;
  const text = String(bolt);
  const number: Mark = {
    kind: 'text',
    x: x + (box.side - set.width(text, sizes.least, 'regular')) / 2,
    y: y + (box.side - sizes.least) / 2 - 1,
    size: sizes.least,
    weight: 'regular',
    text,
    grey: true,
  };
  return { ...side, children: [...side.children, number], text };
}

/** Bolt by bolt: the figures once, then a row a fastener with a box a stage, so that one is finished before the next begins. */
function boltGrid(set: Setting, joint: Joint, stages: readonly Stage[], width: number): Block {
  const heads = stages.map((stage) => {
    const { big, small } = stageFigure(set, stage);
    const figure = paragraph(set, `${stage.n}.  ${big}`, width, figureStyle);
    return stack([figure, inset(paragraph(set, small, width - 14, smallStyle), 14)]);
  });
  const pitch = box.side + box.gap;
  const cell = stages.length * pitch + 20;
  const perLine = Math.max(1, Math.floor(width / cell));
  const bolts = Array.from({ length: joint.count }, (_, index) => {
    const x = (index % perLine) * cell;
    const y = Math.floor(index / perLine) * pitch;
    const number = textLine(String(index + 1), x, y + 4, { size: sizes.small, weight: 'bold' });
    const boxes = stages.map((stage, n) => boltBox(set, joint, stage, index + 1, x + 16 + n * pitch, y, false));
    return element('Div', [number, ...boxes], { look: 'boxes' });
  });
  return stack([...heads, { height: Math.ceil(joint.count / perLine) * pitch, pieces: [element('Div', bolts, { look: 'flow' })] }], 3);
}

/** The figure of a stage, large, and behind it what else is to know. */
function stageHead(set: Setting, stage: Stage, width: number): Block {
  const { big, small } = stageFigure(set, stage);
  const after = 14 + set.width(big, sizes.torque, 'bold') + 8;
  const words = paragraph(set, small, Math.max(60, width - after), smallStyle);
  const figure = element(
    'P',
    [
      { kind: 'text', x: 0, y: 0, size: sizes.least, weight: 'regular', text: `${stage.n}.` },
      { kind: 'text', x: 14, y: -2, size: sizes.torque, weight: 'bold', text: big },
    ],
    { text: `${stage.n}.  ${big}` },
  );
  return {
    height: Math.max(words.height, sizes.torque * 1.2),
    pieces: [element('Div', [figure, ...shift(words.pieces, after, 2)], { look: 'flow' })],
  };
}

/** A stage: its figure, then a box a fastener in tightening order. */
function stageRow(set: Setting, joint: Joint, stage: Stage, width: number): Block {
  const head = stageHead(set, stage, width);
  const inner = width - 14;
  const key = `${joint.code}/${stage.n}`;
  const outside = stage.outside ? [inset(paragraph(set, set.words.measurement.outside(stage.outside), inner, smallStyle), 14)] : [];
  if (stage.ladder) return stack([head, inset(ladderGrid(set, key, stage, stage.ladder, inner), 14), ...outside], 2);
  if (stage.kind === 'window') {
    const unit = unitOf(stage.value);
    const limit: Limit = { low: stage.low, high: stage.high, says: set.figure(stage.value) };
    const readings = Array.from({ length: joint.count }, (_, index): Blank => {
      const n = String(index + 1);
      return {
        key: `${key}/${n}`,
        label: joint.count > 1 ? n : '',
        unit,
        limit,
        says: set.words.torque.bolt(joint.code, stage.n, index + 1),
      };
    });
    return stack([head, inset(blanks(set, readings, inner), 14), ...outside], 3);
  }
  if (stage.boxes === 0) {
    const { from, to } = set.words.torque;
    const times: Blank[] = [
      { key: `${key}/from`, label: from },
      { key: `${key}/to`, label: to },
    ];
    return stack([head, inset(blanks(set, times, inner), 14), ...outside], 2);
  }
  const pitch = box.side + box.gap;
  const perRow = Math.max(1, Math.min(joint.count, Math.floor((inner + box.gap) / pitch)));
  const boxes = Array.from({ length: stage.boxes }, (_, index) =>
    boltBox(set, joint, stage, index + 1, 14 + (index % perRow) * pitch, Math.floor(index / perRow) * pitch, joint.count > 1),
  );
  const rows = Math.ceil(stage.boxes / perRow);
  return stack([head, { height: rows * pitch, pieces: [element('Div', boxes, { look: 'boxes' })] }, ...outside], 2);
}

const unitOf = (value: string): string => value.split(' ').at(-1) ?? '';

/** The attempts of a ladder: a torque, its tick, and the blank for what was measured. Two beside each other. */
function ladderGrid(set: Setting, key: string, { high }: Stage, ladder: NonNullable<Stage['ladder']>, width: number): Block {
  const { torque } = set.words;
  const words = paragraph(set, torque.ladder(ladder.until, set.figure(ladder.limit)), width, smallStyle);
  const columns = 2;
  const wide = (width - 10) / columns;
  const perColumn = Math.ceil(ladder.torques.length / columns);
  const rowHeight = box.blankHeight + 3;
  const unit = unitOf(ladder.limit);
  const attempts = ladder.torques.map((value, index) => {
    const x = Math.floor(index / perColumn) * (wide + 10);
    const y = (index % perColumn) * rowHeight;
    const shown = set.figure(value);
    const says = torque.ladderReading(ladder.until, shown);
    const reading = blank(set, {
      key: `${key}/${index + 1}/reading`,
      label: '',
      unit,
      says,
      ...(high !== null && { limit: { low: null, high, says: set.figure(ladder.limit) } }),
    });
    const after = x + 84 + box.side + box.gap + 4;
    const parts = [
      textLine(shown, x, y + 5, figureStyle),
      tick(`${key}/${index + 1}`, shown, x + 84, y + 4),
      ...shift(reading.pieces, after, y),
    ];
    return element('Div', parts, { look: 'flow' });
  });
  return stack([words, { height: perColumn * rowHeight, pieces: attempts }], 3);
}
