// How limits and amounts are written on paper.
import { expect, it } from 'vitest';
import { limitText } from '../src/job/format.js';
import { parseQuantity } from '../src/quantity/quantity.js';

it.each([
  // Both limits of a dimension have the same number of decimals. Source: ASME Y14.5 (limit dimensioning).
  ['0.001..0.010 in', '0.001 to 0.010 in'],
  ['87.8..88 mm', '87.8 to 88.0 mm'],
  ['0.13..0.20 mm', '0.13 to 0.20 mm'],
  ['25 ±10 % N·m', '22.5 to 27.5 N·m'],
  ['25 ±0.5 mm', '24.5 to 25.5 mm'],
  ['45..55 %', '45 to 55 %'],
  ['max 0.050 mm', 'max 0.050 mm'],
  ['min 3 mm', 'min 3 mm'],
  ['8.0 L', '8.0 L'],
  // Fractions as the gauge shows them; what is computed is a number.
  ['1/2 in', '1/2 in'],
  ['min 4/32 in', 'min 4/32 in'],
  ['1/8..3/16 in', '1/8 to 3/16 in'],
  ['max 1 1/2 in', 'max 1 1/2 in'],
  ['1/2..1.25 in', '1/2 to 1.25 in'],
  ['1/2 ±1/16 in', '0.4375 to 0.5625 in'],
])('%s is written %s', (written, shown) => {
  const parsed = parseQuantity(written, 'any');
  expect(parsed.ok && limitText(parsed.quantity)).toBe(shown);
});

it('nothing is divided by nothing', () => {
  for (const written of ['1/0 in', 'max 1/00 in', '1/8..3/0 in'])
    expect(parseQuantity(written, 'any')).toMatchObject({
      ok: false,
      problem: 'unreadable',
      message: expect.stringContaining('divides by nothing'),
    });
});
