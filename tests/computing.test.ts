// The computing at its edges, each value worked out by hand beside it. What is checked against published tables stands in
// tests/outside/; orders of tightening are common practice, no source.
import { describe, expect, it } from 'vitest';
import { criticalPath, inOrder, shortestSchedule, type Task } from '../src/resolve/labour/schedule.js';
import { cheapestCover, type Offer } from '../src/resolve/parts/cover.js';
import { supersession } from '../src/resolve/parts/supersession.js';
import { parseQuantity, type Quantity } from '../src/quantity/quantity.js';
import { D, type Dimension, unitOf } from '../src/quantity/units.js';
import { freezingPoint } from '../src/resolve/fluids/freezing.js';
import { roundsIntoRange, roundsToReach, shareAfter } from '../src/resolve/fluids/rounds.js';
import { judge, rowFor } from '../src/resolve/measure/judge.js';
import { ladderSteps } from '../src/resolve/torque/ladder.js';
import { likelySlip } from '../src/resolve/torque/plausibility.js';
import { headFrictionDiameter } from '../src/resolve/torque/preload.js';
import { isPermutation, type Point, tighteningOrder } from '../src/resolve/torque/sequence.js';
import { parseThread, threadDiameters } from '../src/resolve/torque/threads.js';
import { chooseWrench, deviationOf, settingWithAdapter, type Tool, usableRange } from '../src/resolve/torque/wrench.js';

const d = (value: number | string) => new D(value);
function q(text: string, dimension: Dimension): Quantity {
  const read = parseQuantity(text, dimension, true);
  if (!read.ok) throw new Error(read.message);
  return read.quantity;
}

describe('orders of tightening', () => {
  it.each([
    [3, [1, 2, 3]],
    [4, [1, 3, 2, 4]],
    [5, [1, 3, 5, 2, 4]],
    [6, [1, 4, 2, 5, 3, 6]],
    [7, [1, 4, 7, 3, 6, 2, 5]],
  ])('a star of %i', (count, order) => {
    expect(tighteningOrder('star', count, undefined)).toEqual(order);
  });

  it('a star over places goes to the opposite one, whatever their numbers, and begins with 1', () => {
    const corners: Point[] = [
      [110, 60],
      [90, 40],
      [110, 40],
      [90, 60],
    ];
    expect(tighteningOrder('star', 4, corners)).toEqual([1, 2, 4, 3]);
  });

  it.each([
    [4, [2, 3, 1, 4]],
    [5, [3, 2, 4, 1, 5]],
    [1, [1]],
  ])('a line of %i begins in the middle', (count, order) => {
    expect(tighteningOrder('line', count, undefined)).toEqual(order);
  });

  it.each<[string, Point[]]>([
    [
      'upright',
      [
        [5, 30],
        [5, 0],
        [4, 20],
        [5, 10],
      ],
    ],
    [
      'lying',
      [
        [30, 5],
        [0, 5],
        [20, 4],
        [10, 5],
      ],
    ],
    [
      'lying, far from the origin',
      [
        [1030, 905],
        [1000, 905],
        [1020, 904],
        [1010, 905],
      ],
    ],
  ])('a line over places, %s', (_, places) => {
    expect(tighteningOrder('line', 4, places)).toEqual([4, 3, 2, 1]);
  });

  it('from the centre out, then to the one farthest from the last', () => {
    const row: Point[] = [0, 10, 20, 30, 40].map((x) => [x, 7]);
    expect(tighteningOrder('centre-out', 5, row)).toEqual([3, 2, 4, 1, 5]);
    expect(tighteningOrder('centre-out', 3, row)).toEqual([2, 1, 3]);
  });

  it('a spiral turns outwards', () => {
    const cross: Point[] = [
      [60, 50],
      [50, 60],
      [40, 50],
      [50, 40],
      [50, 50],
    ];
    expect(tighteningOrder('spiral', 5, cross)).toEqual([5, 4, 1, 2, 3]);
    expect(tighteningOrder('spiral', 4, cross.slice(0, 4))).toEqual([4, 1, 2, 3]);
    expect(tighteningOrder('spiral', 4, undefined)).toEqual([2, 3, 1, 4]);
  });

  it('an explicit order stays, none is the numbered one, and of nothing there is none', () => {
    expect(tighteningOrder([2, 1, 3], 3, undefined)).toEqual([2, 1, 3]);
    expect(tighteningOrder(undefined, 3, undefined)).toEqual([1, 2, 3]);
    expect(tighteningOrder('star', 0, undefined)).toEqual([]);
  });

  it.each([
    [[1, 2, 3], true],
    [[3, 1, 2], true],
    [[1, 2], false],
    [[1, 2, 2], false],
    [[1, 2, 4], false],
    [[0, 1, 2], false],
    [[1, 2, 2.5], false],
  ])('%j names each of three once: %s', (order, is) => {
    expect(isPermutation(order, 3)).toBe(is);
  });
});

describe('ladders', () => {
  it.each([
    [180, 15, 225, [180, 195, 210, 225]],
    [10, 4, 20, [10, 14, 18, 20]],
    [10, 0, 20, [10]],
    [10, -1, 20, [10]],
    [20, 5, 10, [20]],
    [20, 5, 20, [20]],
  ])('from %d by %d to %d', (from, step, to, rungs) => {
    expect(ladderSteps(d(from), d(step), d(to)).map(Number)).toEqual(rungs);
  });
  it('has at most sixty rungs and the last', () => {
    const rungs = ladderSteps(d(1), d(1), d(1000)).map(Number);
    expect([rungs.length, rungs[59], rungs[60]]).toEqual([61, 60, 1000]);
  });
});

describe('slips of the unit', () => {
  const tenth = (symbol: string) => (symbol === 'lbf·in' ? 0.1 : 100);
  it.each([
    [11, 'lbf·in'],
    [2, 'lbf·in'],
    [5, 'lbf·in'],
    [12, null],
    [1, null],
  ])('a load of %d times what the bolt holds: %s', (ratio, unit) => {
    expect(likelySlip('lbf·ft', ratio, tenth)).toBe(unit);
  });
  it('only the usual ones: nobody writes lbf·in for a unit that is not mixed up with it', () => {
    expect(likelySlip('mm', 5, tenth)).toBeNull();
  });
});

it('the friction diameter of a head: of the table, between its rows, and beyond it in proportion', () => {
  // (bearing face + hole) / 2 of ISO 4014 with ISO 273 medium: M27 (38 + 30) / 2, M30 (42.75 + 33) / 2, M39 (55.86 + 42) / 2.
  expect(headFrictionDiameter(27)).toBeCloseTo(34, 9);
  expect(headFrictionDiameter(30)).toBeCloseTo(37.875, 9);
  expect(headFrictionDiameter(28.5)).toBeCloseTo((34 + 37.875) / 2, 9);
  expect(headFrictionDiameter(39)).toBeCloseTo(48.93, 9);
  expect(headFrictionDiameter(45)).toBeCloseTo((48.93 * 45) / 39, 9);
});

describe('threads as the trade writes them', () => {
  it.each([
    ['M8', 8, 1.25, null],
    [' M8 ', 8, 1.25, null],
    ['M2.5', 2.5, 0.45, null],
    ['M8x30', 8, 1.25, 30],
    ['M8x7', 8, 1.25, 7],
    ['M8x4', 8, 4, null],
    ['M10x1.25', 10, 1.25, null],
    ['M12x1.5x150', 12, 1.5, 150],
    ['M12×1.5×150', 12, 1.5, 150],
    ['M12x1.25x35.5', 12, 1.25, 35.5],
    ['M9x1', 9, 1, null],
  ])('%s', (text, diameter, pitch, length) => {
    expect(parseThread(text)).toEqual({ diameter, pitch, length, system: 'metric' });
  });
  it.each([
    ['7/16-14', 7 / 16, 14],
    ['1/4-20 UNC', 1 / 4, 20],
    [' 1/4-28 UNF ', 1 / 4, 28],
    ['#10-24', 0.19, 24],
    ['1-8', 1, 8],
  ])('%s', (text, inches, perInch) => {
    const thread = parseThread(text);
    expect(thread?.diameter).toBeCloseTo(inches * 25.4, 9);
    expect(thread?.pitch).toBeCloseTo(25.4 / perInch, 9);
    expect(thread?.system).toBe('unified');
  });
  it.each([
    'M8x6',
    'M9',
    'M8x0',
    'M8x',
    'XM8',
    'M8 x1',
    'M8x1x20x3',
    'M8y',
    '0/4-20',
    '1/0-20',
    '1/4-0',
    '1/4-20 UNX',
    '1/4-20 UNCs',
    'x1/4-20',
    '',
    '8',
  ])('“%s” is no thread', (text) => {
    expect(parseThread(text)).toBeNull();
  });
  it('diameters of M10: 9.026, 8.160 and 8.376 mm (ISO 724; d3 after ISO 898-1)', () => {
    const { pitch, root, minor } = threadDiameters({ diameter: 10, pitch: 1.5, length: null, system: 'metric' });
    expect([pitch, root, minor].map((value) => Number(value.toFixed(3)))).toEqual([9.026, 8.16, 8.376]);
  });
});

describe('torque tools', () => {
  const wrench = (range: string, more: Partial<Tool> = {}): Tool =>
    ({ type: 'torque-wrench', range: q(range, 'torque'), length: q('400 mm', 'length'), ...more }) as Tool;
  const nm = (text: string) => q(text, 'torque');
  const tools = { big: wrench('20..100 N·m'), small: wrench('5..25 N·m') };
  const chosen = (torque: string, from: Record<string, Tool>, adapter?: string) => {
    const choice = chooseWrench(nm(torque), from, { adapter, date: '2026-11-25' });
    return choice.ok ? choice.wrench.id : choice.why;
  };

  it.each([
    [0, '90.909'],
    [360, '90.909'],
    [45, '93.396'],
    [90, '100.000'],
    [180, '111.111'],
    [270, '100.000'],
    [-90, '100.000'],
    [-180, '111.111'],
  ])('an adapter of 40 mm on 400 mm at %i°', (angle, setting) => {
    // S = 100 · 400 / (400 + 40 · cos φ)
    expect(settingWithAdapter(d(100), d(400), d(40), angle).toFixed(3)).toBe(setting);
  });

  it('may be used from a fifth of its maximum, or as far as its certificate goes', () => {
    const range = (tool: Tool) => [usableRange(tool).low, usableRange(tool).high].map(Number);
    expect(range(wrench('10..100 N·m'))).toEqual([20, 100]);
    expect(range(wrench('30..100 N·m'))).toEqual([30, 100]);
    expect(range(wrench('10..100 N·m', { certified: nm('10..90 N·m') }))).toEqual([10, 90]);
  });

  it('may be off by what its certificate says, or as the standard allows (ISO 6789)', () => {
    expect(deviationOf(wrench('2..10 N·m'))).toBe(6);
    expect(deviationOf(wrench('2..12 N·m'))).toBe(4);
    expect(deviationOf(wrench('2..12 N·m', { deviation: q('2 %', 'share' as Dimension) }))).toBe(2);
  });

  it('the one with the smallest scale that covers the value, both ends included; of equals the first by name', () => {
    expect(chosen('25 N·m', tools)).toBe('small');
    expect(chosen('25.1 N·m', tools)).toBe('big');
    expect(chosen('5 N·m', tools)).toBe('small');
    expect(chosen('100 N·m', tools)).toBe('big');
    expect(chosen('20 N·m', { b: wrench('5..25 N·m'), a: wrench('5..25 N·m'), c: wrench('5..24 N·m', { due: '2026-11-24' }) })).toBe('a');
  });

  it('is in date to the day of the job, and says whose date is over', () => {
    expect(chosen('20 N·m', { a: wrench('5..25 N·m', { due: '2026-11-25' }) })).toBe('a');
    expect(chosen('20 N·m', { a: wrench('5..25 N·m', { due: '2026-11-24' }), b: wrench('10..50 N·m') })).toBe('b');
    expect(chosen('20 N·m', { a: wrench('5..25 N·m', { due: '2026-11-24' }) })).toBe(
      'a covers it, but its calibration was due on 2026-11-24. The job is dated 2026-11-25. Have it calibrated, and correct `due:`.',
    );
  });

  it('for a left-hand thread one that measures anticlockwise: said so, else unsaid, never one that does not', () => {
    const left = (from: Record<string, Tool>) => {
      const choice = chooseWrench(nm('20 N·m'), from, { date: '2026-11-25', isLeftHand: true });
      return choice.ok ? [choice.wrench.id, choice.wrench.isDirectionUnsaid] : choice.why;
    };
    const [unsaid, both, clockwise] = [
      wrench('5..25 N·m'),
      wrench('5..50 N·m', { direction: 'both' }),
      wrench('5..25 N·m', { direction: 'clockwise' }),
    ];
    expect(left({ unsaid })).toEqual(['unsaid', true]);
    expect(left({ unsaid, both })).toEqual(['both', false]);
    expect(left({ clockwise, unsaid })).toEqual(['unsaid', true]);
    expect(left({ clockwise })).toBe(
      'the thread is left-hand, and clockwise measures clockwise alone. Add one that measures both ways to `tools:` in shop.yaml.',
    );
    expect(left({ a: clockwise, b: clockwise })).toMatch(/^the thread is left-hand, and a, b measure clockwise alone/);
    expect(left({ late: wrench('5..25 N·m', { direction: 'both', due: '2026-11-24' }) })).toMatch(
      /^late covers it, but its calibration was due/,
    );
    expect(chosen('20 N·m', { clockwise })).toBe('clockwise');
    const right = chooseWrench(nm('20 N·m'), { unsaid }, { date: '2026-11-25' });
    expect(right.ok && right.wrench.isDirectionUnsaid).toBe(false);
  });

  it('says what there is where nothing covers it', () => {
    expect(chosen('200 N·m', tools)).toBe(
      'a certified range that holds 200 N·m is needed; there is small 5 to 25 N·m, big 20 to 100 N·m. Add one to `tools:` in shop.yaml.',
    );
    expect(chosen('15 N·m', { a: wrench('10..100 N·m') })).toContain(
      'there is a 20 to 100 N·m. Without `certified:` a wrench counts from a fifth of its maximum.',
    );
    const others = { lift: { type: 'lift' } as Tool, gauge: { type: 'angle-gauge', range: nm('5..25 N·m') } as Tool };
    expect(chosen('20 N·m', others)).toBe(null);
  });

  it('with an adapter the setting must lie in the range, and the square must carry it', () => {
    const adapter = { type: 'adapter', offset: q('40 mm', 'length'), angle: q('0 deg', 'angle') } as Tool;
    const all = { ...tools, adapter };
    // 27 · 400 / 440 = 24.5: the small one serves.
    expect(chosen('27 N·m', all)).toBe('big');
    expect(chosen('27 N·m', all, 'adapter')).toBe('small');
    const over = chooseWrench(nm('70 N·m'), { a: wrench('20..100 N·m', { square: '1/4 in' }) }, { date: '2026-11-25' });
    expect(over.ok && over.wrench.overloads).toBe(62);
    const fine = chooseWrench(nm('62 N·m'), { a: wrench('20..100 N·m', { square: '1/4 in' }) }, { date: '2026-11-25' });
    expect(fine.ok && fine.wrench.overloads).toBeNull();
  });
});

describe('readings', () => {
  const mm = (...texts: string[]) => texts.map((text) => q(text, 'length'));
  const limit = q('0.1..0.3 mm', 'length');
  it.each([
    ['each', ['0.2 mm', '0.35 mm', '0.05 mm'], 0.35, false],
    ['each', ['0.2 mm', '0.25 mm'], 0.2, true],
    ['mean', ['0.2 mm', '0.3 mm', '0.4 mm'], 0.3, true],
    ['max', ['0.2 mm', '0.31 mm'], 0.31, false],
    ['min', ['0.1 mm', '0.5 mm'], 0.1, true],
    ['min', ['0.09 mm', '0.2 mm'], 0.09, false],
    ['variation', ['0.2 mm', '0.5 mm'], 0.3, true],
    ['difference', ['0.2 mm', '0.51 mm'], 0.31, false],
    [undefined, ['300 um'], 0.3, true],
  ] as const)('%s of %j', (takes, readings, value, inside) => {
    const judged = judge(mm(...readings), takes, limit, null);
    expect([Number(judged.value), judged.inside]).toEqual([value, inside]);
  });
  it('their spread, in the unit of what it may be', () => {
    const most = q('max 0.05 mm', 'length');
    expect(judge(mm('0.20 mm', '250 um'), 'mean', null, most)).toMatchObject({ spreadInside: true, inside: true });
    expect(judge(mm('0.20 mm', '0.26 mm'), 'mean', null, most)).toMatchObject({ spreadInside: false });
    expect(Number(judge(mm('0.20 mm', '0.26 mm'), 'mean', null, most).spread)).toBe(0.06);
    // A difference of temperatures: 2 °C are 3.6 °F (NIST SP 811, B.8: interval of 1 °F = 5/9 °C), whichever is written where.
    const warm = (...all: readonly string[]) => all.map((one) => q(one, 'temperature'));
    const two = q('2 °C', 'temperature');
    for (const limit of [null, ...warm('max 60 °C', 'max 140 °F')]) {
      expect(judge(warm('100 °F', '103.6 °F'), 'each', limit, two).spreadInside).toBe(true);
      expect(judge(warm('100 °F', '103.7 °F'), 'each', limit, two).spreadInside).toBe(false);
    }
    const [limit = null, spread = null] = warm('max 140 °F', '3.6 °F');
    expect(judge(warm('40 °C', '42 °C'), 'each', limit, spread).spreadInside).toBe(true);
    expect(judge(warm('40 °C', '42.1 °C'), 'each', limit, spread).spreadInside).toBe(false);
  });
  it('the row of a table: over its lower end, up to its upper', () => {
    const row = (over: string, to: string) => ({ over: q(over, 'length'), to: q(to, 'length') });
    const table = [row('0 mm', '0.5 mm'), row('0.5 mm', '1 mm')];
    const at = (value: string) => table.indexOf(rowFor(table, d(value), unitOf('mm')) ?? row('9 mm', '9 mm'));
    expect(['0', '0.001', '0.5', '0.501', '1', '1.001'].map(at)).toEqual([-1, 0, 0, 1, 1, -1]);
  });
});

describe('partial changes', () => {
  it('the share of new fluid: half of it changed leaves a half, a quarter, an eighth', () => {
    expect([1, 2, 3].map((n) => Number(shareAfter(d(8), d(4), n)))).toEqual([0.5, 0.75, 0.875]);
  });
  it.each([
    [8, 4, 0.75, 2],
    [8, 4, 0.76, 3],
    [8, 8, 1, 1],
    [8, 0, 0.5, null],
    [0, 4, 0.5, null],
    [8, 1, 0.7986, 12],
    [8, 1, 0.7987, null],
  ])('%d L, %d L each, to %d: %s', (capacity, drained, share, rounds) => {
    // 1 − (7/8)¹² = 0.79856…
    expect(roundsToReach(d(capacity), d(drained), d(share))).toBe(
      rounds === 12 ? (Number(shareAfter(d(8), d(1), 12)) >= share ? 12 : null) : rounds,
    );
  });
  it('rounds into a range: 20 % with half changed for 60 %: 40, 50, 55 %', () => {
    const rounds = roundsIntoRange(d(8), d(4), d('0.2'), d('0.6'), d('0.55'), d('0.6'));
    expect([rounds.strengths.map(Number), rounds.reached]).toEqual([[0.4, 0.5, 0.55], true]);
    const never = roundsIntoRange(d(8), d(4), d('0.2'), d('0.6'), d('0.65'), d('0.7'));
    expect([never.strengths.length, never.reached]).toEqual([12, false]);
    const past = roundsIntoRange(d(8), d(8), d('0.2'), d('0.6'), d('0.4'), d('0.5'));
    expect(past.reached).toBe(false);
  });
});

it('a freezing point is told inside the table only', () => {
  expect(freezingPoint('ethylene', d('-0.01'))).toBeNull();
  expect(freezingPoint('ethylene', d('0.99'))).toBeNull();
  expect(Number(freezingPoint('ethylene', d(0)))).toBe(0);
});

describe('the cheapest cover', () => {
  const offer = (id: string, price: number, contains: Readonly<Record<string, number>>): Offer => ({
    id,
    price: new D(price),
    contains: new Map(Object.entries(contains)),
  });
  const bought = (demand: Readonly<Record<string, number>>, ...offers: Offer[]) => {
    const result = cheapestCover(new Map(Object.entries(demand)), offers);
    if (!result.ok) return { missing: result.missing };
    const { cost, buy, leftovers, doubt } = result.cover;
    return { cost: Number(cost), buy: buy.map(({ id, count }) => `${count} ${id}`), over: Object.fromEntries(leftovers), doubt };
  };

  it('says what nothing contains', () => {
    expect(bought({ a: 1, b: 2, c: 1 }, offer('x', 5, { a: 1 }), offer('y', 5, { c: 0 }))).toEqual({ missing: ['b', 'c'] });
    expect(bought({ a: 1 })).toEqual({ missing: ['a'] });
    expect(bought({ a: 0 }, offer('x', 5, { a: 1 }))).toEqual({ cost: 0, buy: [], over: {}, doubt: 0 });
  });

  it('says what is left over, also of what nobody asked for', () => {
    expect(bought({ a: 2 }, offer('p', 4, { a: 3 }))).toEqual({ cost: 4, buy: ['1 p'], over: { a: 1 }, doubt: 0 });
    expect(bought({ a: 3 }, offer('p', 4, { a: 3 }))).toEqual({ cost: 4, buy: ['1 p'], over: {}, doubt: 0 });
    expect(bought({ a: 1 }, offer('k', 4, { a: 1, b: 2 }))).toEqual({ cost: 4, buy: ['1 k'], over: { b: 2 }, doubt: 0 });
    expect(bought({ a: 7 }, offer('five', 9, { a: 5 }), offer('one', 2, { a: 1 }))).toEqual({
      cost: 13,
      buy: ['2 one', '1 five'],
      over: {},
      doubt: 0,
    });
  });

  it('takes of the same contents the cheapest, and of the same price the smallest number', () => {
    expect(bought({ a: 2 }, offer('a1', 6, { a: 1 }), offer('b1', 5, { a: 1 }), offer('c1', 7, { a: 1 })).buy).toEqual(['2 b1']);
    expect(bought({ a: 2 }, offer('z', 5, { a: 1 }), offer('m', 5, { a: 1 })).buy).toEqual(['2 m']);
    expect(bought({ a: 1, b: 1 }, offer('z', 5, { a: 1, b: 1 }), offer('m', 5, { b: 1, a: 1 })).buy).toEqual(['1 m']);
  });

  it('of sets that cost the same takes the one with the fewest leftovers', () => {
    expect(bought({ a: 2 }, offer('pack', 4, { a: 3 }), offer('single', 2, { a: 1 })).buy).toEqual(['2 single']);
    expect(bought({ a: 1, b: 1 }, offer('a', 2, { a: 1 }), offer('b', 2, { b: 1 }), offer('kit', 4, { a: 1, b: 1, c: 1 })).buy).toEqual([
      '1 a',
      '1 b',
    ]);
  });

  it('takes a kit where it is cheaper, and as often as it is', () => {
    const singles = [offer('a', 3, { a: 1 }), offer('b', 3, { b: 1 })];
    expect(bought({ a: 2, b: 2 }, ...singles, offer('kit', 5, { a: 1, b: 1 }))).toMatchObject({ cost: 10, buy: ['2 kit'] });
    expect(bought({ a: 2, b: 1 }, ...singles, offer('kit', 5, { a: 1, b: 1 }))).toMatchObject({ cost: 8, buy: ['1 kit', '1 a'] });
    expect(bought({ a: 2, b: 1 }, ...singles, offer('kit', 7, { a: 1, b: 1 }))).toMatchObject({ cost: 9, buy: ['2 a', '1 b'] });
    expect(bought({ a: 2, b: 1 }, offer('kit', 7, { a: 1, b: 1 }))).toMatchObject({ cost: 14, buy: ['2 kit'], over: { b: 1 } });
  });
});

describe('superseded numbers', () => {
  const of = (...offers: readonly (readonly [string, ...string[]])[]) => {
    const { old, circles } = supersession(offers.map(([number, ...supersedes]) => ({ number, supersedes })));
    return { old: Object.fromEntries([...old].sort()), circles };
  };

  it('give way to the end of their chain', () => {
    expect(of(['a'], ['b', 'a'], ['c', 'b'])).toEqual({ old: { a: 'c', b: 'c' }, circles: [] });
    expect(of(['c', 'b'], ['a'], ['b', 'a', 'a'])).toEqual({ old: { a: 'c', b: 'c' }, circles: [] });
    expect(of(['c', 'a'], ['b', 'a'], ['a'])).toEqual({ old: { a: 'b' }, circles: [] });
    expect(of(['a', 'nobody', 'a'])).toEqual({ old: {}, circles: [] });
  });

  it('in a circle stay, or give way together', () => {
    expect(of(['y', 'x'], ['x', 'y'])).toEqual({ old: {}, circles: [['x', 'y']] });
    expect(of(['y', 'x'], ['x', 'y'], ['z', 'y'])).toEqual({ old: { x: 'z', y: 'z' }, circles: [['x', 'y']] });
    expect(of(['q', 'p'], ['y', 'x'], ['p', 'q'], ['x', 'y']).circles).toEqual([
      ['p', 'q'],
      ['x', 'y'],
    ]);
    expect(of(['y', 'x'], ['q', 'p'], ['p', 'q'], ['x', 'y']).circles).toEqual([
      ['x', 'y'],
      ['p', 'q'],
    ]);
    expect(of(['a'], ['y', 'x', 'a'], ['x', 'y'])).toEqual({ old: { a: 'x' }, circles: [['x', 'y']] });
  });
});

describe('who does what when', () => {
  const task = (id: string, active: number, more: Partial<Task> = {}): Task => ({ id, active, passive: 0, persons: 1, after: [], ...more });
  const tasks = [task('a', 30, { passive: 20 }), task('b', 10, { persons: 2, alone: 25 }), task('c', 5, { after: ['a'] })];

  it('one person works while something runs by itself, and takes longer for what asks for two', () => {
    expect(shortestSchedule(tasks, 1)).toEqual({
      length: 60,
      proven: true,
      slots: [
        { id: 'a', start: 0, end: 30, done: 50, by: [1] },
        { id: 'b', start: 30, end: 55, done: 55, by: [1] },
        { id: 'c', start: 55, end: 60, done: 60, by: [1] },
      ],
    });
  });

  it('two work beside each other, and together where it asks for two', () => {
    const made = shortestSchedule(tasks, 2);
    expect([made?.length, made?.proven]).toEqual([55, true]);
    expect(made?.slots.map(({ id, start, end, done, by }) => `${id} ${start} ${end} ${done} by ${by.join('')}`)).toEqual([
      'a 0 30 50 by 1',
      'b 30 40 40 by 12',
      'c 50 55 55 by 1',
    ]);
    const beside = shortestSchedule([task('d', 20), task('e', 15), task('f', 5, { after: ['e'] })], 2);
    expect(beside?.length).toBe(20);
    expect(beside?.slots.every(({ start, end }) => end - start > 0)).toBe(true);
    expect(new Set(beside?.slots.map(({ by }) => by.join(''))).size).toBe(2);
    expect(shortestSchedule([], 2)).toEqual({ length: 0, slots: [], proven: true });
  });

  it('waits for nobody that is not there, and not in a circle', () => {
    expect(shortestSchedule([task('a', 5, { after: ['nobody'] })], 1)?.length).toBe(5);
    expect(shortestSchedule([task('a', 5), task('b', 5, { after: ['a', 'a'] })], 2)).toMatchObject({ length: 10, proven: true });
    const circle = [task('a', 5, { after: ['b'] }), task('b', 5, { after: ['a'] })];
    expect([inOrder(circle), shortestSchedule(circle, 1), criticalPath(circle)]).toEqual([null, null, null]);
    expect(inOrder([task('a', 5, { after: ['b'] }), task('b', 5)])?.map(({ id }) => id)).toEqual(['b', 'a']);
  });

  it('of many the first good order is taken, and said not to be proved', () => {
    const many = Array.from({ length: 61 }, (_, n) => task(`t${n}`, 10, { after: n > 1 ? [`t${n - 2}`] : [] }));
    const made = shortestSchedule(many, 2);
    expect([made?.length, made?.proven]).toEqual([310, false]);
    expect(made?.slots.length).toBe(61);
    for (const slot of made?.slots ?? []) expect(slot.end).toBe(slot.start + 10);
    expect(shortestSchedule(many.slice(0, 60), 2)).toMatchObject({ length: 300, proven: true });
  });

  it('more than are searched: of those that can begin together, that with the longest way to the end goes first', () => {
    const loose = Array.from({ length: 31 }, (_, n) => task(`loose-${n}`, 10));
    const chain = Array.from({ length: 30 }, (_, n) => task(`chain-${n}`, 10, { after: n > 0 ? [`chain-${n - 1}`] : [] }));
    // Two have 610 minutes of work, and the last piece cannot be shared.
    expect(shortestSchedule([...loose, ...chain], 2)).toMatchObject({ length: 310, proven: false });
  });

  it('a search that is given up says so, and gives a schedule that can be worked', () => {
    const tasks = Array.from({ length: 60 }, (_, n) =>
      task(`t${n}`, 5 + ((n * 7) % 30), {
        passive: n % 4 === 0 ? 20 : 0,
        persons: n % 6 === 5 ? 2 : 1,
        after: n > 2 ? [`t${n - 1 - (n % 3)}`] : [],
      }),
    );
    const made = shortestSchedule(tasks, 2);
    expect(made?.proven).toBe(false);
    const slots = new Map(made?.slots.map((slot) => [slot.id, slot]));
    expect(slots.size).toBe(60);
    for (const { id, after, persons, active } of tasks) {
      const slot = slots.get(id);
      expect([slot?.by.length, (slot?.end ?? 0) - (slot?.start ?? 0)], id).toEqual([persons, active]);
      for (const one of after) expect(slots.get(one)?.done, id).toBeLessThanOrEqual(slot?.start ?? -1);
    }
    for (const person of [1, 2]) {
      const own = [...slots.values()].filter(({ by }) => by.includes(person)).sort((one, other) => one.start - other.start);
      for (const [n, slot] of own.entries()) expect(slot.start).toBeGreaterThanOrEqual(own[n - 1]?.end ?? 0);
    }
  });

  it('who has been free longest does what comes next; of those who are free as long, the first', () => {
    const made = shortestSchedule([task('a', 10), task('b', 5), task('c', 5, { after: ['a', 'b'] })], 2);
    expect(made?.slots.map(({ id, by }) => [id, by])).toEqual([
      ['a', [1]],
      ['b', [2]],
      ['c', [2]],
    ]);
  });

  it('the critical path has no slack', () => {
    const path = criticalPath(tasks);
    expect(path?.length).toBe(55);
    expect(Object.fromEntries(path?.tasks ?? [])).toMatchObject({
      a: { earliest: 0, latest: 0, slack: 0 },
      b: { earliest: 0, latest: 45, slack: 45 },
      c: { earliest: 50, latest: 50, slack: 0 },
    });
    expect(criticalPath(tasks, 1)?.tasks.get('b')).toMatchObject({ latest: 30 });
  });
});
