// The order of names, against the collator of the engine (ICU, Unicode Technical Standard 10).
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { inOrder } from '../src/order.js';

const collator = new Intl.Collator('en', { numeric: true });

it('is that of the collator for names such as shops write', () => {
  const names = [
    '8 AF',
    '10 AF',
    '13 AF',
    'T30',
    'T8',
    'E10',
    'E8',
    'spline 10',
    'Zange',
    'Ölfilterschlüssel',
    'oil gun',
    'B-2',
    'B-12',
    'b',
    'a',
  ];
  expect([...names].sort(inOrder)).toEqual([...names].sort(collator.compare));
});

it('is that of the collator for letters, accents, numbers, spaces and hyphens', () => {
  const name = fc.string({ unit: fc.constantFrom('a', 'b', 'z', 'B', 'ä', 'é', '0', '1', '9', ' ', '-'), minLength: 1, maxLength: 6 });
  fc.assert(
    fc.property(name, name, (a, b) => {
      const ours = inOrder(a, b);
      const plain = new Intl.Collator('en', { numeric: true, sensitivity: 'base' }).compare(a, b);
      // Where only capitals and accents differ, any order that stays the same will do.
      if (plain !== 0) expect(Math.sign(ours)).toBe(Math.sign(plain));
      expect(Math.sign(inOrder(b, a))).toBe(a === b ? 0 : -Math.sign(ours));
    }),
  );
});
