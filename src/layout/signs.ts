import type { Caution } from '../schema/generated/compiled-job.js';
import { type Block, paragraph } from './blocks.js';
import type { Mark, Measure } from './page.js';
import { shift } from './page.js';
import { sizes } from './style.js';

/** A caution in its frame: sign, signal word (ANSI Z535.6), words. Told apart by word, sign and weight of the frame, never by colour. */
export function caution(measure: Measure, one: Caution, width: number): Block {
  const pad = 6;
  const signal = one.signal;
  const heavy = signal === 'DANGER' ? 3.4 : signal === 'WARNING' ? 2.4 : signal === 'CAUTION' ? 1.4 : 0.8;
  const sign = signal === 'NOTICE' ? 0 : 24;
  const wordWidth = measure.width(signal, sizes.step, 'bold') + 10;
  const text = paragraph(measure, one.text, width - 2 * pad - sign - wordWidth, { size: sizes.text, weight: 'semibold' });
  const height = Math.max(text.height, sign ? 20 : 14) + 2 * pad;
  const marks: Mark[] = [{ kind: 'box', x: heavy / 2, y: heavy / 2, w: width - heavy, h: height - heavy, width: heavy }];
  if (sign) marks.push(...alertSign(pad + 2, pad, 20));
  marks.push({ kind: 'text', x: pad + sign + 2, y: pad, size: sizes.step, weight: 'bold', text: signal });
  marks.push(...shift(text.marks, pad + sign + wordWidth, pad));
  return { height: height + 3, marks, keepWithNext: true };
}

/** Our own drawing of the general alert: a triangle with an exclamation mark. */
function alertSign(x: number, y: number, size: number): Mark[] {
  const high = size * 0.88;
  const middle = x + size / 2;
  return [
    {
      kind: 'polygon',
      points: [
        [middle, y],
        [x + size, y + high],
        [x, y + high],
      ],
      width: 1.6,
    },
    { kind: 'line', x: middle, y: y + high * 0.36, toX: middle, toY: y + high * 0.68, width: 2 },
    { kind: 'box', x: middle - 1, y: y + high * 0.78, w: 2, h: 2, width: 0, fill: 'black' },
  ];
}
