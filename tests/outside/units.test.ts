// Against something outside the project; the source stands beside each check.
import fc from 'fast-check';
import { create, all } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { inUnit, parseQuantity } from '../../src/quantity/quantity.js';
import { convert, D, findUnit, unitOf } from '../../src/quantity/units.js';
import { csv } from '../helpers/shop.js';

describe('unit factors', () => {
  it('agree with tests/reference/unit_factors.csv (NIST SP 811, NIST HB 44) to 1e-12', () => {
    const names: Record<string, string> = { 'US gal': 'us gal', 'US qt': 'us qt', 'US pt': 'us pt', 'US fl oz': 'us fl oz' };
    let checked = 0;
    for (const row of csv('unit_factors.csv')) {
      const from = findUnit(names[row.from ?? ''] ?? row.from ?? '');
      const to = findUnit(row.to ?? '');
      if (!from || !to || from.dimension !== to.dimension || from.dimension === 'temperature' || Number.isNaN(Number(row.factor))) continue;
      checked++;
      const ours = convert(new D(1), from, to);
      expect(
        ours
          .div(row.factor ?? 1)
          .minus(1)
          .abs()
          .toNumber(),
        `${row.from} to ${row.to}`,
      ).toBeLessThan(1e-12);
    }
    expect(checked).toBeGreaterThan(10);
  });

  it('agree with mathjs to 1e-9', () => {
    const math = create(all ?? {});
    for (const [value, from, to, ours, ourTo] of [
      [1, 'lbf ft', 'N m', 'lbf·ft', 'N·m'],
      [1, 'lbf in', 'N m', 'lbf·in', 'N·m'],
      [1, 'gallon', 'liter', 'US gal', 'L'],
      [1, 'psi', 'kPa', 'psi', 'kPa'],
      [1, 'inch', 'mm', 'in', 'mm'],
      [0.75, 'cycle', 'deg', 'turn', 'deg'],
    ] as const) {
      const theirs = math.unit(value, from).toNumber(to);
      expect(convert(new D(value), unitOf(ours), unitOf(ourTo)).toNumber() / theirs - 1).toBeCloseTo(0, 9);
    }
  });

  it('common practice, no source: 89 lbf·in is about 10 N·m, 18 lbf·ft about 24.4 N·m', () => {
    expect(convert(new D(89), unitOf('lbf·in'), unitOf('N·m')).toNumber()).toBeCloseTo(10.06, 2);
    expect(convert(new D(18), unitOf('lbf·ft'), unitOf('N·m')).toNumber()).toBeCloseTo(24.4, 1);
  });

  it('what people write is read, and what has two readings is refused', () => {
    for (const text of ['25 Nm', '25 N.m', '25 N-m', '18 lb-ft', '18 ft-lb', '89 in-lb', '8 kgf.m'])
      expect(parseQuantity(text, 'torque').ok, text).toBe(true);
    for (const text of ['4 gal', '2 qt', '3 pt'])
      expect(parseQuantity(text, 'volume')).toMatchObject({ ok: false, problem: 'ambiguous-unit' });
    for (const text of ['18 lb', '18 ft']) expect(parseQuantity(text, 'torque')).toMatchObject({ ok: false, problem: 'ambiguous-unit' });
  });

  it('1 daN·m is 10 N·m by its prefix, a cubic centimetre a millilitre (NIST SP 811, tables 5 and 6, from memory), and halves are read', () => {
    const read = (text: string, dimension: 'torque' | 'volume' | 'length', to: string) => {
      const parsed = parseQuantity(text, dimension);
      return parsed.ok ? inUnit(parsed.quantity, to).toNumber() : parsed.message;
    };
    expect(read('2.5 daN.m', 'torque', 'N·m')).toBe(25);
    expect(read('250 kgf·cm', 'torque', 'kgf·m')).toBe(2.5);
    expect(read('250 kg-cm', 'torque', 'N·m')).toBe(24.516625);
    expect(read('25 foot-pounds', 'torque', 'lbf·ft')).toBe(25);
    expect(read('25 ft. lbs.', 'torque', 'lbf·ft')).toBe(25);
    expect(read('300 cc', 'volume', 'L')).toBe(0.3);
    expect(read('1/2 in', 'length', 'mm')).toBe(12.7);
    expect(read('2 ft', 'length', 'in')).toBe(24);
  });

  it('never throws on any text', () => {
    fc.assert(fc.property(fc.string({ maxLength: 40 }), (text) => typeof parseQuantity(text, 'any').ok === 'boolean'));
  });
});
