import type { Joint, Stage } from '../schema/generated/compiled-job.js';
import { afterWords } from '../words/en.js';
import { type Block, beside, blank, blankWidthOf, flow, framed, inset, paragraph, smallStyle, stack, tick } from './blocks.js';
import { boltMap, hasMap } from './bolt-map.js';
import { outlines } from './outlines.js';
import type { Mark, Measure } from './page.js';
import { shift } from './page.js';
import { box, sizes } from './style.js';

/** `10 × M12x1.5x150 (10.9), E14, NEW, oiled` */
export function jointWords(joint: Joint): string {
  return [
    `${joint.count} × ${joint.thread ?? ''}${joint.class ? ` (${joint.class})` : ''}`.trim(),
    joint.leftHand ? 'LEFT-HAND THREAD ↺' : null,
    joint.drive,
    joint.renew ? 'NEW' : joint.reuse === 'always' || joint.reuse === null ? 'used again' : `used again: ${joint.reuse}`,
    joint.threads ? `threads ${joint.threads}` : null,
    joint.counterHold ? `counter-hold: ${joint.counterHold}` : null,
    joint.prevailing,
  ]
    .filter((part) => part !== null)
    .join(', ');
}

/** `60 N·m`, with the other unit, the tool and what to set on it. */
function stageFigure(stage: Stage): { readonly big: string; readonly small: string } {
  const conditions = [
    stage.after ? (afterWords[stage.after] ?? stage.after) : null,
    stage.onGround ? 'wheels on the ground' : null,
    stage.at,
    stage.rotate ? `turn the part ${stage.rotate} times while tightening` : null,
  ].filter((part) => part !== null);
  const tool = stage.tool ? (stage.setting ? `${stage.tool}, SET ${stage.setting}` : stage.tool) : null;
  const turned = stage.kind === 'angle' || (stage.kind === 'repeat' && stage.value.endsWith('°'));
  const what = { repeat: 'once more', window: 'final reading', ladder: 'step by step, never back off' }[stage.kind as string];
  return {
    big: turned ? `+${stage.value}` : stage.value,
    small: [what ?? null, stage.other ? `(${stage.other})` : null, tool, stage.tolerance, ...conditions]
      .filter((part) => part !== null)
      .join('  '),
  };
}

/** The strip at the step where the wrench is in the hand: what, stages with a box for each fastener, and the map. Never split. */
export function torqueStrip(measure: Measure, joint: Joint, stages: readonly number[], width: number): Block {
  const padding = 6;
  const inner = width - 2 * padding;
  const withMap = hasMap(joint) && stages.some((n) => (joint.stages[n - 1]?.boxes ?? 0) > 0);
  const mapWidth = withMap ? Math.min(joint.positions.length > 8 ? 220 : 150, inner * 0.42) : 0;
  const left = inner - mapWidth - (withMap ? 10 : 0);
  const title = paragraph(measure, `${joint.code}  ${joint.name}`, left, { size: sizes.step, weight: 'bold' });
  const words = paragraph(
    measure,
    jointWords(joint) +
      (joint.adapter ? `, ${joint.adapter} in line with the handle` : '') +
      (joint.boltByBolt ? '. Bolt by bolt: all stages of one before the next.' : ''),
    left,
    smallStyle,
  );
  const shown = stages.flatMap((n) => joint.stages[n - 1] ?? []);
  const byBolt = joint.boltByBolt && shown.length > 1 && shown.every((stage) => stage.boxes === joint.count);
  const rows = byBolt ? [boltGrid(measure, joint, shown, left)] : shown.map((stage) => stageRow(measure, joint, stage, left));
  const play =
    joint.endPlay && stages.some((n) => joint.stages[n - 1]?.kind === 'back-off')
      ? [paragraph(measure, `Leaves an end play of ${joint.endPlay}.`, left, smallStyle)]
      : [];
  const tail = joint.discardIf ? [paragraph(measure, `Throw away if ${joint.discardIf}.`, left, smallStyle)] : [];
  const body = stack([title, words, ...rows, ...play, ...outlines(measure, joint, left), ...tail], 3);
  if (!withMap) return framed(body, width, padding);
  const map = boltMap(measure, joint, mapWidth, Math.max(90, body.height));
  return framed(
    beside([
      { x: 0, block: body },
      { x: left + 10, block: map },
    ]),
    width,
    padding,
  );
}

/** Bolt by bolt: the figures once, then a row a fastener with a box a stage, so that one is finished before the next begins. */
function boltGrid(measure: Measure, joint: Joint, stages: readonly Stage[], width: number): Block {
  const heads = stages.map((stage) => {
    const { big, small } = stageFigure(stage);
    const figure = paragraph(measure, `${stage.n}.  ${big}`, width, { size: sizes.torque, weight: 'bold' });
    return stack([figure, inset(paragraph(measure, small, width - 14, smallStyle), 14)]);
  });
  const pitch = box.side + box.gap;
  const cell = stages.length * pitch + 20;
  const perLine = Math.max(1, Math.floor(width / cell));
  const marks = Array.from({ length: joint.count }, (_, bolt): Mark[] => {
    const x = (bolt % perLine) * cell;
    const y = Math.floor(bolt / perLine) * pitch;
    const number: Mark = { kind: 'text', x, y: y + 4, size: sizes.small, weight: 'bold', text: String(bolt + 1) };
    return [number, ...stages.flatMap((_stage, index) => shift([tick(0, 0)], x + 16 + index * pitch, y))];
  }).flat();
  return stack([...heads, { height: Math.ceil(joint.count / perLine) * pitch, marks }], 3);
}

/** A stage: its figure, then a box a fastener in tightening order. */
function stageRow(measure: Measure, joint: Joint, stage: Stage, width: number): Block {
  const figure = stageFigure(stage);
  const marks: Mark[] = [
    { kind: 'text', x: 0, y: 0, size: sizes.least, weight: 'regular', text: `${stage.n}.` },
    { kind: 'text', x: 14, y: -2, size: sizes.torque, weight: 'bold', text: figure.big },
  ];
  const after = 14 + measure.width(figure.big, sizes.torque, 'bold') + 8;
  const small = paragraph(measure, figure.small, Math.max(60, width - after), smallStyle);
  const head: Block = {
    height: Math.max(small.height, sizes.torque * 1.2),
    marks: [...marks, ...small.marks.map((mark) => (mark.kind === 'text' ? { ...mark, x: mark.x + after, y: mark.y + 2 } : mark))],
  };
  if (stage.ladder) return stack([head, ladderGrid(measure, stage, stage.ladder, width - 14)], 2);
  if (stage.kind === 'window')
    return stack(
      [head, inset(readings(measure, joint.count, unitOf(stage.value), width - 14), 14), ...outsideWords(measure, stage, width)],
      3,
    );
  if (stage.boxes === 0) {
    const line: Block = {
      height: box.blankHeight,
      marks: [{ kind: 'text', x: 14, y: 8, size: sizes.small, weight: 'regular', text: 'from ______  to ______' }],
    };
    return stack([head, line]);
  }
  const pitch = box.side + box.gap;
  const perRow = Math.max(1, Math.min(joint.count, Math.floor((width - 14 + box.gap) / pitch)));
  const boxes: Mark[] = Array.from({ length: stage.boxes }, (_, index) => {
    const x = 14 + (index % perRow) * pitch;
    const y = Math.floor(index / perRow) * (box.side + box.gap);
    const text = String(index + 1);
    const number: Mark = {
      kind: 'text',
      x: x + (box.side - measure.width(text, sizes.least, 'regular')) / 2,
      y: y + (box.side - sizes.least) / 2 - 1,
      size: sizes.least,
      weight: 'regular',
      text,
      grey: true,
    };
    const side: Mark = { kind: 'box', x, y, w: box.side, h: box.side, width: 1.1 };
    return joint.count > 1 ? [side, number] : [side];
  }).flat();
  const rows = Math.ceil(stage.boxes / perRow);
  return stack([head, { height: rows * (box.side + box.gap), marks: boxes }, ...outsideWords(measure, stage, width)], 2);
}

const unitOf = (value: string): string => value.split(' ').at(-1) ?? '';

const outsideWords = (measure: Measure, stage: Stage, width: number): Block[] =>
  stage.outside ? [inset(paragraph(measure, `Outside: ${stage.outside}`, width - 14, smallStyle), 14)] : [];

/** A blank a fastener, to write the reading in. */
const readings = (measure: Measure, count: number, unit: string, width: number): Block =>
  flow(
    Array.from({ length: count }, (_, index) => {
      const label = count > 1 ? String(index + 1) : '';
      return { width: blankWidthOf(measure, label, unit), block: blank(measure, label, unit) };
    }),
    width,
  );

/** The attempts of a ladder: a torque, its tick, and the blank for what was measured. Two beside each other. */
function ladderGrid(measure: Measure, stage: Stage, ladder: NonNullable<Stage['ladder']>, width: number): Block {
  const words = paragraph(
    measure,
    `Measure ${ladder.until} after each: stop as soon as it is ${ladder.limit}. Never back off.`,
    width,
    smallStyle,
  );
  const columns = 2;
  const wide = (width - 10) / columns;
  const perColumn = Math.ceil(ladder.torques.length / columns);
  const rowHeight = box.blankHeight + 3;
  const unit = unitOf(ladder.limit);
  const marks = ladder.torques.flatMap((torque, index): Mark[] => {
    const x = Math.floor(index / perColumn) * (wide + 10);
    const y = (index % perColumn) * rowHeight;
    const figure: Mark = { kind: 'text', x, y: y + 5, size: sizes.torque, weight: 'bold', text: torque };
    return [figure, ...shift([tick(0, 0)], x + 84, y + 4), ...shift(blank(measure, '', unit).marks, x + 84 + box.side + box.gap + 4, y)];
  });
  return inset(stack([words, { height: perColumn * rowHeight, marks }, ...outsideWords(measure, stage, width)], 3), 14);
}
