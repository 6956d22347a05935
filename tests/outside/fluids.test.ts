// Against something outside the project; the source stands beside each check.
import { freezingPoint } from '../../src/resolve/fluids/freezing.js';
import { roundsIntoRange, shareAfter } from '../../src/resolve/fluids/rounds.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convert, D, unitOf } from '../../src/quantity/units.js';
import { refill, resultOf } from '../../src/resolve/fluids/mixture.js';
import { csv } from '../helpers/shop.js';

describe('mixtures', () => {
  it('drain-and-replace problems as published (tests/reference/coolant_mixing_problems.csv)', () => {
    for (const row of csv('coolant_mixing_problems.csv')) {
      const [capacity, drained] = [new D(row.V ?? 0), new D(row['x=V(ct-c0)/(cr-c0)'] ?? 0)];
      const share = (text: string | undefined) => new D(text ?? 0).div(100);
      expect(resultOf(capacity, drained, share(row.initial_pct), share(row.refill_pct)).times(100).toNumber()).toBeCloseTo(
        Number(row.target_pct),
        4,
      );
    }
  });
  it('mass balance holds to the last digit for any input', () => {
    const litre = fc.integer({ min: 1, max: 40_000 }).map((ml) => new D(ml).div(1000));
    const share = fc.integer({ min: 0, max: 100 }).map((percent) => new D(percent).div(100));
    fc.assert(
      fc.property(litre, litre, share, share, (a, b, initial, target) => {
        const [capacity, drained] = a.gte(b) ? [a, b] : [b, a];
        const result = refill(capacity, drained, initial, target);
        expect(result.concentrate.plus(result.water).eq(drained)).toBe(true);
        if (result.reached)
          expect(capacity.minus(drained).times(initial).plus(result.concentrate).minus(capacity.times(target)).abs().lt('1e-30')).toBe(
            true,
          );
      }),
    );
  });
  it('common practice, no source: a system of just over 4 US gal gives back about 2.5 US gal; that is poured, and not the capacity', () => {
    const gallons = (value: string) => convert(new D(value), unitOf('US gal'), unitOf('L'));
    const result = refill(gallons('4.1'), gallons('2.5'), new D('0.5'), new D('0.5'));
    expect(result.concentrate.plus(result.water).toFixed(6)).toBe(gallons('2.5').toFixed(6));
  });
});

describe('freezing points', () => {
  const rows = csv('glycol_freezing.csv');
  it('the ASHRAE table itself, to the last digit (tests/reference/glycol_freezing.csv)', () => {
    for (const row of rows) {
      const glycol = row.fluid === 'ethylene glycol' ? 'ethylene' : 'propylene';
      expect(freezingPoint(glycol, new D(row.volume_pct ?? 0).div(100))?.toNumber(), `${row.fluid} ${row.volume_pct}`).toBeCloseTo(
        Number(row.T_freeze_C_ASHRAE),
        9,
      );
    }
  });
  it('another source, the polynomial of Melinder 2010 at the same mass, within 3 K', () => {
    for (const row of rows) {
      const glycol = row.fluid === 'ethylene glycol' ? 'ethylene' : 'propylene';
      const ours = freezingPoint(glycol, new D(row.volume_pct ?? 0).div(100))?.toNumber() ?? 0;
      expect(Math.abs(ours - Number(row.T_freeze_C_Melinder_at_same_mass_pct))).toBeLessThan(3);
    }
  });
  it('general workshop practice: 33 % about −17, 50 % about −37 °C (read on a workshop page)', () => {
    expect(freezingPoint('ethylene', new D('0.33'))?.toNumber()).toBeCloseTo(-18.2, 1);
    expect(freezingPoint('ethylene', new D('0.5'))?.toNumber()).toBeCloseTo(-37, 1);
    expect(freezingPoint('propylene', new D('0.5'))?.toNumber()).toBeCloseTo(-33.6, 0);
  });
  it('refuses what is outside the table: the curve turns back there', () => {
    expect(freezingPoint('ethylene', new D('0.65'))).toBeNull();
    expect(freezingPoint('propylene', new D('0.61'))).toBeNull();
  });
});

describe('rounds', () => {
  it('each round is one mass balance: the same as replacing one after the other', () => {
    const share = fc.integer({ min: 0, max: 100 }).map((n) => new D(n).div(100));
    fc.assert(
      fc.property(fc.integer({ min: 200, max: 900 }), share, share, (ml, initial, poured) => {
        const [capacity, drained] = [new D(10), new D(ml).div(100)];
        let strength = initial;
        for (const step of roundsIntoRange(capacity, drained, initial, poured, new D(2), new D(3)).strengths) {
          strength = resultOf(capacity, drained, strength, poured);
          expect(step.minus(strength).abs().lt('1e-30')).toBe(true);
        }
      }),
    );
  });
  it('partial changes of a gearbox, 7.6 L with 3.4 L each: 44.74, 69.46, 83.12, 90.67 % (1 − (1 − d/C)ⁿ)', () => {
    const shares = [1, 2, 3, 4].map((n) => shareAfter(new D('7.6'), new D('3.4'), n).times(100).toFixed(2));
    expect(shares).toEqual(['44.74', '69.46', '83.12', '90.67']);
  });
});
