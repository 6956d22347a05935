import type { Caution } from '../schema/generated/compiled-job.js';
import { type Block, drawing, paragraph, textLine } from './blocks.js';
import { element, type Mark, shift } from './page.js';
import type { Setting } from './setting.js';
import { sizes } from './style.js';

/** A caution in its frame: sign, signal word (ANSI Z535.6), words. Told apart by word, sign and weight of the frame, never by colour. */
export function caution(set: Setting, one: Caution, width: number): Block {
  const pad = 6;
  const { signal } = one;
  const word = set.words.signals[signal];
  const heavy = signal === 'DANGER' ? 3.4 : signal === 'WARNING' ? 2.4 : signal === 'CAUTION' ? 1.4 : 0.8;
  const sign = signal === 'NOTICE' ? 0 : 24;
  const style = { size: sizes.step, weight: 'bold' as const };
  const wordWidth = set.width(word, style.size, style.weight) + 10;
  const text = paragraph(set, one.text, width - 2 * pad - sign - wordWidth, { size: sizes.text, weight: 'semibold' });
  const height = Math.max(text.height, sign ? 20 : 14) + 2 * pad;
  const frame: Mark = { kind: 'box', x: heavy / 2, y: heavy / 2, w: width - heavy, h: height - heavy, width: heavy };
  const drawn = sign ? shift(drawing(set.words.alertSign, 20, 20, alertSign(20)).pieces, pad + 2, pad) : [];
  const parts = [frame, ...drawn, textLine(word, pad + sign + 2, pad, style), ...shift(text.pieces, pad + sign + wordWidth, pad)];
  return { height: height + 3, pieces: [element('Div', parts, { look: 'caution' })], keepWithNext: true };
}

/** Our own drawing of the general alert: a triangle with an exclamation mark. */
function alertSign(size: number): Mark[] {
  const high = size * 0.88;
  const middle = size / 2;
  return [
    {
      kind: 'polygon',
      points: [
        [middle, 0],
        [size, high],
        [0, high],
      ],
      width: 1.6,
    },
    { kind: 'line', x: middle, y: high * 0.36, toX: middle, toY: high * 0.68, width: 2 },
    { kind: 'box', x: middle - 1, y: high * 0.78, w: 2, h: 2, width: 0, fill: 'black' },
  ];
}
