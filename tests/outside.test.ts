// The main computations against something outside the project. The source stands beside each check.
import fs from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { create, all } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../src/quantity/quantity.js';
import { convert, D, findUnit, unitOf } from '../src/quantity/units.js';
import { refill, resultOf } from '../src/resolve/fluids/mixture.js';
import { cheapestCover } from '../src/resolve/parts/cover.js';
import { digitsOf, roundMoney } from '../src/resolve/price/money.js';
import { totalsOf } from '../src/resolve/price/totals.js';
import { proofStress } from '../src/resolve/torque/strength.js';
import { parseThread, stressArea } from '../src/resolve/torque/threads.js';
import { settingWithAdapter } from '../src/resolve/torque/wrench.js';
import { csv, projectFolder } from './helpers/shop.js';

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

  it('never throws on any text', () => {
    fc.assert(fc.property(fc.string({ maxLength: 40 }), (text) => typeof parseQuantity(text, 'any').ok === 'boolean'));
  });
});

describe('threads and strength', () => {
  it('stress areas as printed in ISO 898-1, table 4 and 6 (tests/reference/metric_threads.csv)', () => {
    let checked = 0;
    for (const row of csv('metric_threads.csv')) {
      const thread = parseThread(`M${row.d_mm}x${row.P_mm}`);
      if (!thread || !row.As_published_mm2) continue;
      checked++;
      expect(Math.abs(stressArea(thread) / Number(row.As_published_mm2) - 1), row.thread ?? '').toBeLessThan(0.006);
    }
    expect(checked).toBeGreaterThan(20);
  });
  it('stress areas of unified threads (ASME B1.1; Shigley 9e, table 8-2)', () => {
    for (const row of csv('unified_threads.csv')) {
      const thread = parseThread(row.thread ?? '');
      expect(thread, row.thread ?? '').not.toBeNull();
      if (thread && row.As_published_in2)
        expect(Math.abs(stressArea(thread) / 645.16 / Number(row.As_published_in2) - 1)).toBeLessThan(0.006);
    }
  });
  it('proof loads of ISO 898-1, table 5 (stress area to three figures, as the table does), within 0.6 %', () => {
    for (const row of csv('proof_loads_coarse.csv')) {
      const thread = parseThread(row.thread ?? '');
      const stress = thread && proofStress(row.class ?? '', thread.diameter);
      if (thread && stress)
        expect(
          Math.abs((Number(stressArea(thread).toPrecision(3)) * stress) / Number(row.proof_load_published_N) - 1),
          `${row.thread} ${row.class}`,
        ).toBeLessThan(0.006);
    }
  });
});

it('adapter settings as printed (tests/reference/torque_extension_examples.csv)', () => {
  for (const row of csv('torque_extension_examples.csv')) {
    const offset = new D(row.E ?? 0).abs();
    const setting = settingWithAdapter(new D(row.T_wanted ?? 0), new D(row.L ?? 1), offset, Number(row.angle_deg));
    expect(setting.toNumber()).toBeCloseTo(Number.parseFloat(row.published_setting ?? ''), 1);
  }
  expect(settingWithAdapter(new D(10), new D(260), new D(38), 90).toNumber()).toBe(10);
});

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

it('cover instances: the optimum that brute force and two solvers found (tests/reference/cover_instances.json)', () => {
  const instances: {
    name: string;
    brute: number | null;
    highs: number;
    instance?: { items: { name: string; cost: number; provides: Record<string, number> }[]; demand: Record<string, number> };
  }[] = JSON.parse(fs.readFileSync(path.join(projectFolder, 'tests/reference/cover_instances.json'), 'utf8'));
  expect(instances.filter((one) => one.instance)).not.toHaveLength(0);
  for (const { name, highs, instance } of instances) {
    if (!instance) continue;
    const result = cheapestCover(
      new Map(Object.entries(instance.demand)),
      instance.items.map((item) => ({ id: item.name, price: new D(item.cost), contains: new Map(Object.entries(item.provides)) })),
    );
    expect(result.ok && result.cover.cost.toNumber(), name).toBeCloseTo(highs, 4);
  }
});

describe('EN 16931', () => {
  interface Example {
    path: string;
    cur: string;
    lines: { net: string; pct: string; cat: string }[];
    docac: { ind: string; amt: string; pct: string; cat: string }[];
    tot: Record<string, string>;
    tax: { total: string; sub: unknown[] }[];
  }
  const examples: Example[] = JSON.parse(fs.readFileSync(path.join(projectFolder, 'tests/reference/en16931_examples.json'), 'utf8'));
  it.each(examples.map((example) => [example.path, example] as const))('%s', (_path, example) => {
    const key = (one: { cat: string; pct: string }) => `${one.cat} ${Number(one.pct)}`;
    const charge = (one: { ind: string; amt: string }) => (one.ind === 'true' || one.ind === '1' ? new D(one.amt) : new D(one.amt).neg());
    const lines = [
      ...example.lines.map((line) => ({ amount: new D(line.net), tax: key(line) })),
      ...example.docac.map((one) => ({ amount: charge(one), tax: key(one) })),
    ];
    const rates = new Map([...example.lines, ...example.docac].map((one) => [key(one), new D(Number(one.pct) || 0)]));
    const totals = totalsOf(lines, rates, example.cur);
    expect(totals.net.toFixed(2)).toBe(new D(example.tot.TaxExclusiveAmount ?? 0).toFixed(2));
    expect(totals.gross.toFixed(2)).toBe(new D(example.tot.TaxInclusiveAmount ?? 0).toFixed(2));
  });
  it('rounds half away from zero: 365.125 to 365.13, and its mirror', () => {
    expect(roundMoney(new D('365.125'), 'NOK').toFixed(2)).toBe('365.13');
    expect(roundMoney(new D('-365.125'), 'NOK').toFixed(2)).toBe('-365.13');
  });
  it('minor units as in ISO 4217 (tests/reference/iso4217_minor_units.csv), not as in Intl', () => {
    for (const row of csv('iso4217_minor_units.csv'))
      expect(digitsOf(row.currency ?? ''), row.currency ?? '').toBe(Number(row.iso4217_minor_units));
  });
});
