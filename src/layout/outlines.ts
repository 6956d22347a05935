import { parseThread } from '../resolve/torque/threads.js';
import type { Joint } from '../schema/generated/compiled-job.js';
import { type Block, inset, paragraph, smallStyle, stack } from './blocks.js';
import type { Mark, Measure } from './page.js';
import { mm, sizes } from './style.js';

/**
 * Bolts of several lengths at life size, so that they are sorted by laying them on the paper, with a bar of 100 mm that
 * shows whether the printer has scaled.
 */
export function outlines(measure: Measure, joint: Joint, width: number): Block[] {
  const lengths = [...new Set(joint.lengths)].sort((a, b) => a - b);
  if (lengths.length < 2) return [];
  const diameter = (joint.thread ? parseThread(joint.thread)?.diameter : undefined) ?? 8;
  const bolts = lengths.map((length): Block => {
    // The map shows the order, so the places are named by it too.
    const where = joint.sequence.flatMap((fastener, order) => (joint.lengths[fastener - 1] === length ? [order + 1] : []));
    const words = paragraph(measure, `${length} mm: ${where.length} pieces, numbers ${where.join(', ')} of the map`, width, smallStyle);
    const head = { w: mm(diameter * 0.65), h: mm(diameter * 1.6) };
    const drawn = Math.min(mm(length), width - head.w - 2);
    const marks: Mark[] = [
      { kind: 'box', x: 0, y: 0, w: head.w, h: head.h, width: 1 },
      { kind: 'box', x: head.w, y: (head.h - mm(diameter)) / 2, w: drawn, h: mm(diameter), width: 1 },
    ];
    return stack([words, { height: head.h + 3, marks }], 1);
  });
  const bar = Math.min(mm(100), width);
  const check: Block = {
    height: sizes.small + 10,
    marks: [
      { kind: 'line', x: 0, y: 4, toX: bar, toY: 4, width: 1 },
      { kind: 'line', x: 0, y: 0, toX: 0, toY: 8, width: 1 },
      { kind: 'line', x: bar, y: 0, toX: bar, toY: 8, width: 1 },
      {
        kind: 'text',
        x: 0,
        y: 10,
        size: sizes.least,
        weight: 'regular',
        text: 'This bar is 100 mm. If it is not, the printer has scaled: do not sort by these outlines.',
      },
    ],
  };
  return [inset(stack([...bolts, { ...check, height: check.height + 6 }], 4), 0, 2)];
}
