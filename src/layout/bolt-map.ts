import type { Joint } from '../schema/generated/compiled-job.js';
import { type Block, drawing, inOneLine, leastStyle, lines, paragraph, stack, strongStyle } from './blocks.js';
import type { Mark } from './page.js';
import type { Setting } from './setting.js';
import { sizes } from './style.js';

/** Whether a drawing says more than the words: positions are known, or a ring has an order. */
export const hasMap = (joint: Joint): boolean =>
  joint.positions.length > 1 || (joint.sequence.length >= 4 && joint.sequence.some((n, index) => n !== index + 1));

/**
 * The joint as the technician faces it, each fastener with its place in the tightening order. Positions to scale;
 * where none are known a ring is drawn and says so.
 */
export function boltMap(set: Setting, joint: Joint, width: number, most: number): Block {
  const ring = joint.positions.length === 0;
  const points: readonly (readonly number[])[] = ring ? joint.sequence.map((_, index) => onRing(index, joint.count)) : joint.positions;
  const xs = points.map((point) => point[0] ?? 0);
  const ys = points.map((point) => point[1] ?? 0);
  const [left, right, top, bottom] = joint.facing;
  const widest = 10;
  const labelled = Boolean(left || right || top || bottom);
  const marginY = widest + 2 + (labelled ? sizes.least + 4 : 0);
  const spanX = Math.max(...xs) - Math.min(...xs) || 1;
  const spanY = Math.max(...ys) - Math.min(...ys) || 1;
  // Circles must not lie on each other: the map grows in height first, then the circles shrink.
  const apart = closest(points);
  const byWidth = (width - 2 * widest - 4) / spanX;
  const scale = Math.min(byWidth, Math.max((most - 2 * marginY) / spanY, (2 * widest + 2) / apart));
  if (apart * scale < 2 * narrowest + 1) return orderList(set, joint, width);
  const radius = Math.min(widest, (apart * scale - 1) / 2);
  const size = radius < widest ? sizes.least : 10.5;
  const high = (Math.max(...ys) - Math.min(...ys)) * scale + 2 * marginY;
  const wide = spanX * scale;
  const offset = (width - wide) / 2;
  const place = (index: number): readonly [number, number] => [
    offset + ((xs[index] ?? 0) - Math.min(...xs)) * scale,
    marginY + ((ys[index] ?? 0) - Math.min(...ys)) * scale,
  ];
  const marks: Mark[] = [];
  joint.sequence.forEach((fastener, order) => {
    const [x, y] = place(fastener - 1);
    const text = String(order + 1);
    marks.push({ kind: 'circle', x, y, r: radius, width: 1.2 });
    marks.push({ kind: 'text', x: x - set.width(text, size, 'bold') / 2, y: y - size * 0.67, size, weight: 'bold', text });
  });
  let height = high;
  if (labelled) {
    const centred = (text: string, y: number): Mark => ({
      kind: 'text',
      x: width / 2 - set.width(text, sizes.least, 'regular') / 2,
      y,
      size: sizes.least,
      weight: 'regular',
      text,
    });
    if (top) marks.push(centred(inOneLine(top), 0));
    const below = [left ? `← ${left}` : '', bottom ?? '', right ? `${right} →` : ''].map(inOneLine).filter(Boolean);
    const oneLine = below.join('   ');
    const rows = set.width(oneLine, sizes.least, 'regular') <= width ? [oneLine] : below;
    rows.forEach((text, index) => void marks.push(centred(text, high - sizes.least - 2 + index * sizes.least * 1.2)));
    height += (rows.length - 1) * sizes.least * 1.2;
  } else if (ring) {
    const says = lines(set, set.words.torque.ring, width, leastStyle);
    says.forEach((text, index) => void marks.push({ kind: 'text', x: 0, y: high + index * sizes.least * 1.2, ...leastStyle, text }));
    height += says.length * sizes.least * 1.3;
  }
  return drawing(set.words.torque.map(joint.name, joint.sequence.join(', ')), width, height, marks);
}

/** Circles smaller than this cannot hold two figures. */
const narrowest = 7;

/** Distance of the two points that are nearest to each other; at least a little. */
function closest(points: readonly (readonly number[])[]): number {
  let least = Number.POSITIVE_INFINITY;
  points.forEach((a, index) => {
    for (const b of points.slice(index + 1)) least = Math.min(least, Math.hypot((a[0] ?? 0) - (b[0] ?? 0), (a[1] ?? 0) - (b[1] ?? 0)));
  });
  return Math.max(least, 1e-6);
}

/** Too many for a drawing: the numbers in their order. */
const orderList = (set: Setting, joint: Joint, width: number): Block =>
  stack([paragraph(set, set.words.torque.order, width, strongStyle), paragraph(set, joint.sequence.join(', '), width)], 2);

const onRing = (index: number, count: number): readonly [number, number] => {
  const angle = (2 * Math.PI * index) / count - Math.PI / 2;
  return [Math.cos(angle) * 30, Math.sin(angle) * 30];
};
