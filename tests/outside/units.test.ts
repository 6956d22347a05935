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
      [90, 'arcmin', 'deg', 'arcmin', 'deg'],
      [3, 'mil', 'mm', 'thou', 'mm'],
      [1, 'kgf/cm^2', 'kPa', 'kgf/cm²', 'kPa'],
      [4.7, 'kohm', 'ohm', 'kΩ', 'Ω'],
      [2, 'Mohm', 'kohm', 'MΩ', 'kΩ'],
      [35, 'mohm', 'ohm', 'mΩ', 'Ω'],
      [30, 'mA', 'A', 'mA', 'A'],
      [55, 'kW', 'W', 'kW', 'W'],
      [70, 'A hour', 'A hour', 'Ah', 'Ah'],
      [12, 'kHz', 'Hz', 'kHz', 'Hz'],
      [1.5, 'L/minute', 'L/hour', 'L/min', 'L/h'],
      [150, 'mL/minute', 'L/hour', 'mL/min', 'L/h'],
      [850, 'mV', 'V', 'mV', 'V'],
      [1013, 'hPa', 'Pa', 'hPa', 'Pa'],
      [40, 'Pa', 'kPa', 'Pa', 'kPa'],
      [1, 'lbf', 'N', 'lbf', 'N'],
      [12, 'kgf', 'N', 'kgf', 'N'],
      [310, 'daN', 'kN', 'daN', 'kN'],
      [450, 'mN m', 'N m', 'mN·m', 'N·m'],
      [1, 'hp', 'W', 'hp', 'W'],
      [58, 'kW hour', 'J', 'kWh', 'J'],
      [640, 'W hour', 'kW hour', 'Wh', 'kWh'],
      [2200, 'mA hour', 'A hour', 'mAh', 'Ah'],
      [2.4, 'ms', 'us', 'ms', 'µs'],
      [3, 'm/s', 'km/hour', 'm/s', 'km/h'],
      [7, 'cl', 'ml', 'cL', 'mL'],
      [5, 'dl', 'ml', 'dL', 'mL'],
      [40, 'mm^3', 'ml', 'mm³', 'mL'],
      [61, 'in^3', 'liter', 'in³', 'L'],
      [1.2, 'Gohm', 'Mohm', 'GΩ', 'MΩ'],
      [80, 'uA', 'mA', 'µA', 'mA'],
      [4700, 'nF', 'uF', 'nF', 'µF'],
      [1.3, 'mS/cm', 'uS/cm', 'mS/cm', 'µS/cm'],
      [5, 'g/s', 'kg/hour', 'g/s', 'kg/h'],
      [12, 'kcd', 'cd', 'kcd', 'cd'],
    ] as const) {
      const theirs = math.unit(value, from).toNumber(to);
      expect(convert(new D(value), unitOf(ours), unitOf(ourTo)).toNumber() / theirs - 1).toBeCloseTo(0, 9);
    }
  });

  it('common practice, no source: 89 lbf·in is about 10 N·m, 18 lbf·ft about 24.4 N·m', () => {
    expect(convert(new D(89), unitOf('lbf·in'), unitOf('N·m')).toNumber()).toBeCloseTo(10.06, 2);
    expect(convert(new D(18), unitOf('lbf·ft'), unitOf('N·m')).toNumber()).toBeCloseTo(24.4, 1);
  });

  it('columns of mercury, conventional: 133.3224 Pa a millimetre, 3.386389 kPa an inch (NIST SP 811, appendix B.8, from memory)', () => {
    expect(convert(new D(1), unitOf('mmHg'), unitOf('kPa')).toNumber()).toBeCloseTo(0.1333224, 7);
    expect(convert(new D(1), unitOf('inHg'), unitOf('kPa')).toNumber()).toBeCloseTo(3.386389, 6);
  });

  it('columns of water, conventional: 9.80665 Pa a millimetre, 249.0889 Pa an inch (NIST SP 811, appendix B.8, from memory)', () => {
    expect(convert(new D(1), unitOf('mmH₂O'), unitOf('Pa')).toNumber()).toBeCloseTo(9.80665, 9);
    expect(convert(new D(1), unitOf('inH₂O'), unitOf('Pa')).toNumber()).toBeCloseTo(249.0889, 4);
  });

  it('a metric horsepower is 735.4988 W, an ounce-force inch 7.061552 mN·m (NIST SP 811, appendix B.8, from memory)', () => {
    expect(convert(new D(1), unitOf('PS'), unitOf('W')).toNumber()).toBeCloseTo(735.4988, 4);
    expect(convert(new D(1), unitOf('ozf·in'), unitOf('mN·m')).toNumber()).toBeCloseTo(7.061552, 6);
    // A thousandth is a tenth of a hundredth.
    expect(convert(new D(25), unitOf('‰'), unitOf('%')).toNumber()).toBe(2.5);
  });

  it('electrical and other values as books write them; milli and mega are told apart, or asked about', () => {
    const read = (text: string) => {
      const parsed = parseQuantity(text, 'any', true);
      return parsed.ok ? `${parsed.quantity.unit.symbol} of ${parsed.quantity.unit.dimension}` : parsed.message;
    };
    for (const [text, said] of [
      ['0.4..0.8 Ω', 'Ω of resistance'],
      ['2.5 k\u2126', 'kΩ of resistance'],
      ['max 35 mΩ', 'mΩ of resistance'],
      ['min 1 MΩ', 'MΩ of resistance'],
      ['min 1 Mohm', '“Mohm” can be read in more than one way. Write 1 mΩ or 1 MΩ.'],
      ['max 30 mA', 'mA of current'],
      ['750 ±50 rpm', 'r/min of rotational speed'],
      ['750 1/min', 'r/min of rotational speed'],
      ['1.28 g/cm³', 'kg/L of density'],
      ['3 flats', 'flat of angle'],
      ['0.97..1.03 λ', 'λ of air ratio'],
      ['max 1.5 1/m', '1/m of light absorption'],
      ['max 1.5 m⁻¹', '1/m of light absorption'],
      ['max 0.3 % vol', '% of share'],
      ['7.5..8.5 pH', 'pH of acidity'],
      ['max 5 μS/cm', 'µS/cm of conductivity'],
      ['max 90 dB(A)', 'dB(A) of sound level'],
      ['min 5 m/s²', 'm/s² of acceleration'],
      ['5..8 K', 'K of temperature difference'],
      ['max 50 \u03bcA', 'µA of current'],
      [
        '3 bra',
        '“bra” is not a unit that is known here. Did you mean bar? `baywright explain quantity/unknown-unit` lists those that are.',
      ],
      ['3 Vlt', '“Vlt” is not a unit that is known here. Did you mean V? `baywright explain quantity/unknown-unit` lists those that are.'],
      ['2 codes', '“codes” is not a unit that is known here. `baywright explain quantity/unknown-unit` lists those that are.'],
      ['2 mil', '“mil” can be read in more than one way. Write 2 thou or 2 mm.'],
      ['-20 ±10 arcmin', 'arcmin of angle'],
      ["1°30'", "“1°30'” is not one value. Write degrees and minutes as minutes: 90 arcmin."],
      ['-0°20′', '“-0°20′” is not one value. Write degrees and minutes as minutes: -20 arcmin.'],
    ] as const)
      expect(read(text), text).toBe(said);
  });

  it('what people write is read, and what has two readings is refused', () => {
    for (const text of ['25 Nm', '25 N.m', '25 N-m', '18 lb-ft', '18 ft-lb', '89 in-lb', '8 kgf.m'])
      expect(parseQuantity(text, 'torque').ok, text).toBe(true);
    for (const text of ['4 gal', '2 qt', '3 pt', '2 qts', '4 gals', '3 pints'])
      expect(parseQuantity(text, 'volume')).toMatchObject({ ok: false, problem: 'ambiguous-unit' });
    for (const [text, same] of [
      ['8 US qts', '8 US qt'],
      ['7.5 US quarts', '7.5 US qt'],
      ['2 US gallons', '2 US gal'],
      ['3 imp pts', '3 imp pt'],
    ] as const)
      expect(findUnit(text.replace(/^[\d.]+ /, '')), text).toBe(unitOf(same.replace(/^[\d.]+ /, '')));
    for (const text of ['18 lb', '18 ft']) expect(parseQuantity(text, 'torque')).toMatchObject({ ok: false, problem: 'ambiguous-unit' });
    for (const text of ['18 lb', '18 lbs', '18 oz'])
      expect(parseQuantity(text, 'any')).toMatchObject({ ok: false, problem: 'ambiguous-unit' });
    // As a mass they have one reading: the pound is 0.45359237 kg, the ounce a sixteenth of it (NIST SP 811, appendix B).
    for (const [text, kg] of [
      ['18 lb', '8.16466266'],
      ['18 pounds', '8.16466266'],
      ['18 oz', '0.51029141625'],
    ] as const) {
      const read = parseQuantity(text, 'mass');
      expect(read.ok && read.quantity.nominal?.times(read.quantity.unit.factor).toString()).toBe(kg);
    }
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
