import { parseThread } from '../resolve/torque/threads.js';
import type { Joint } from '../schema/generated/compiled-job.js';
import { type Block, drawing, inset, leastStyle, paragraph, smallStyle, stack } from './blocks.js';
import type { Setting } from './setting.js';
import { mm } from './style.js';

/**
 * Bolts of several lengths at life size, so that they are sorted by laying them on the paper, with a bar of 100 mm that
 * shows whether the printer has scaled.
 */
export function outlines(set: Setting, joint: Joint, width: number): Block[] {
  const { torque } = set.words;
  const lengths = [...new Set(joint.lengths)].sort((a, b) => a - b);
  if (lengths.length < 2) return [];
  const diameter = (joint.thread ? parseThread(joint.thread)?.diameter : undefined) ?? 8;
  const bolts = lengths.map((length): Block => {
    // The map shows the order, so the places are named by it too.
    const where = joint.sequence.flatMap((fastener, order) => (joint.lengths[fastener - 1] === length ? [order + 1] : []));
    const shown = set.figure(`${length} mm`);
    const words = paragraph(set, torque.lengths(shown, where.length, where.join(', ')), width, smallStyle);
    const head = { w: mm(diameter * 0.65), h: mm(diameter * 1.6) };
    const drawn = Math.min(mm(length), width - head.w - 2);
    const outline = drawing(torque.outline(shown), head.w + drawn, head.h + 3, [
      { kind: 'box', x: 0, y: 0, w: head.w, h: head.h, width: 1 },
      { kind: 'box', x: head.w, y: (head.h - mm(diameter)) / 2, w: drawn, h: mm(diameter), width: 1 },
    ]);
    return stack([words, outline], 1);
  });
  const bar = Math.min(mm(100), width);
  const ruler = drawing(torque.barAlt, bar, 9, [
    { kind: 'line', x: 0, y: 4, toX: bar, toY: 4, width: 1 },
    { kind: 'line', x: 0, y: 0, toX: 0, toY: 8, width: 1 },
    { kind: 'line', x: bar, y: 0, toX: bar, toY: 8, width: 1 },
  ]);
  return [inset(stack([...bolts, stack([ruler, paragraph(set, torque.bar, width, leastStyle)], 1)], 4), 0, 2, 4)];
}
