// Readings that are worked out from others: the shims of valves. New = in + clearance - clearance that is wanted; common
// practice, no source. The figures are worked out by hand beside each.
import { describe, expect, it } from 'vitest';
import { baySheet } from '../src/layout/bay-sheet.js';
import { leftOpen } from '../src/layout/left-open.js';
import { partsList } from '../src/layout/parts-list.js';
import type { JobRecord } from '../src/layout/recorded.js';
import { settingOf } from '../src/layout/setting.js';
import { D } from '../src/quantity/units.js';
import { calculated } from '../src/resolve/measure/calculated.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, found, libraryWith } from './helpers/shop.js';
import { valves as shop, valveOrder as order, valveVehicle as vehicle, valveWork as work } from './helpers/valves.js';

const shopWith = (...changes: Parameters<typeof libraryWith>[1]) => libraryWith(shop, changes);
const rules = (...changes: Parameters<typeof libraryWith>[1]) =>
  found(shopWith(...changes)).map(({ rule, place, message }) => `${rule} ${place.replace(/^.*\/|:\d+$/g, '')} ${message}`);

describe('readings worked out from others', () => {
  const values = (...all: readonly number[]) => all.map((one) => new D(one));
  it.each<[string, Parameters<typeof calculated>, readonly number[] | null]>([
    [
      'each with its own',
      [
        [
          { values: values(2.65, 2.55), minus: false },
          { values: values(0.12, 0.3), minus: false },
        ],
        new D('-0.21'),
      ],
      [2.56, 2.64],
    ],
    [
      'one with all',
      [
        [
          { values: values(3, 4), minus: false },
          { values: values(1), minus: true },
        ],
        new D(0),
      ],
      [2, 3],
    ],
    [
      'one alone',
      [
        [
          { values: values(7.25), minus: false },
          { values: values(6.9), minus: true },
        ],
        new D('0.05'),
      ],
      [0.4],
    ],
    [
      'not as many',
      [
        [
          { values: values(1, 2, 3), minus: false },
          { values: values(1, 2), minus: false },
        ],
        new D(0),
      ],
      null,
    ],
    [
      'none',
      [
        [
          { values: values(1, 2, 3), minus: false },
          { values: [], minus: false },
        ],
        new D(0),
      ],
      null,
    ],
  ])('%s', (_, given, gives) => {
    expect(calculated(...given)?.map(Number) ?? null).toEqual(gives);
  });
});

describe('a job whose readings are known before', () => {
  const job = compiled(shopWith(), 'valves');

  it('nothing is wrong with it, and what is wanted is worked out', () => {
    expect(rules()).toEqual([]);
    // 2.60 + 0.20 - 0.21, 2.65 + 0.12 - 0.21, 2.55 + 0.30 - 0.21, 2.50 + 0.24 - 0.21
    expect(job.measurements.find(({ code }) => code === 'M-03')).toMatchObject({
      expected: '2.59 mm, 2.56 mm, 2.64 mm, 2.53 mm',
      calculated: { formula: 'M-02 + M-01 \u2212 0.21 mm', plus: ['M-02', 'M-01'], minus: [], constant: '-0.21' },
    });
  });

  it('what is inside its limit stays in; of the others each gets its own, and the rest is held', () => {
    expect(job.choices[0]?.expected).toEqual(['none', 'shim-255', 'shim-265', 'none']);
    expect(job.parts.buy.map(({ number, count, hold }) => [number, count, hold])).toEqual([
      ['V-255', 1, ['V-250', 'V-260']],
      ['V-265', 1, ['V-250', 'V-260']],
    ]);
    expect(wordsOn(partsList(job, measure))).toContain(
      'V-255 and V-265 are expected; hold V-250 and V-260 beside them until C-01 (shim) is known.',
    );
  });

  it('the sheet says how it is worked out, and what lets the old one stay', () => {
    const text = wordsOn(baySheet(job, measure));
    expect(text).toContain('Work out shim that is wanted');
    expect(text).toContain('M-03 shim that is wanted: = M-02 + M-01 \u2212 0.21 mm, each reading with its own; before the job 2.59 mm');
    expect(text).toContain('M-01 inside its limit what is in stays (expected at 1, 4)');
    expect(text).not.toContain('M-03 mm');
    expect(text).toMatch(/M-01\.2 valve clearance: 0\.18 to 0\.24 mm \(each reading counts\), with feeler gauges 1 mm/);
    const german = wordsOn(baySheet(compiled(shopWith([order, 'id: valves\n', 'id: valves\nlanguage: de\n']), 'valves'), measure));
    expect(german).toMatch(/M-03 shim that is wanted: = M-02 \+ M-01 \u2212 0[.,]21 mm, jeder Messwert mit seinem/);
    expect(german).toContain('Ausrechnen: shim that is wanted');
    expect(german).toContain('M-01 innerhalb der Grenze bleibt, wie es ist');
  });

  it('in other units, by what is taken off, and not where one is of another kind', () => {
    const wanted = (...changes: Parameters<typeof libraryWith>[1]) =>
      compiled(shopWith(...changes), 'valves').measurements.find(({ code }) => code === 'M-03')?.expected;
    const inches = 'shim-in: [0.1 in, 0.1 in, 0.1 in, 0.1 in]';
    // 2.54 + 0.20 - 0.21 and so on
    expect(wanted([order, 'shim-in: [2.60 mm, 2.65 mm, 2.55 mm, 2.50 mm]', inches])).toBe('2.53 mm, 2.45 mm, 2.63 mm, 2.57 mm');
    expect(wanted([vehicle, 'plus: [shim-in, clearance], constant: -0.21 mm', 'plus: [shim-in], minus: [clearance]'])).toBe(
      '2.4 mm, 2.53 mm, 2.25 mm, 2.26 mm',
    );
    expect(wanted([order, '  shim-in: [2.60 mm, 2.65 mm, 2.55 mm, 2.50 mm]\n', ''])).toBeNull();
    expect(wanted([order, '2.65 mm', '2.65 bar'])).toBeNull();
    // What the order has itself counts.
    expect(wanted([order, 'measured:\n', 'measured:\n  shim-wanted: [1 mm, 2 mm, 3 mm, 4 mm]\n'])).toBe('1 mm, 2 mm, 3 mm, 4 mm');
  });
});

describe('a record of it', () => {
  const job = compiled(shopWith(), 'valves');
  const sheet = baySheet(job, measure);
  const each = (code: string, ...all: readonly string[]) => Object.fromEntries(all.map((one, n) => [`${code}/${n + 1}`, one]));
  const right = {
    ...each('M-01', '0.20', '0.12', '0.30', '0.24'),
    ...each('M-02', '2.60', '2.65', '2.55', '2.50'),
    ...each('M-03', '2.59', '2.56', '2.64', '2.53'),
    ...each('M-01.2', '0.20', '0.22', '0.20', '0.24'),
    ...each('C-01', 'stays', 'shim 2.55', '2,65', 'what is in stays'),
  };
  const told = (values: Readonly<Record<string, string>>): string[] => {
    const record = { values: { ...right, ...values }, ticks: {} } as unknown as JobRecord;
    return leftOpen(job, sheet, record, settingOf(job, measure)).filter((one) => /^[CM]-\d/.test(one));
  };

  it('is right where it is worked out right; its last place may be rounded', () => {
    expect(told({})).toEqual([]);
    expect(told({ 'M-02/2': '2.654', 'M-03/2': '2.57' })).toEqual([]);
  });

  it('tells which reading got another part than the table gives it; what is no word of the table is left to who wrote it', () => {
    expect(told({ 'C-01/2': '2.60' })).toEqual(['C-01/2 shim: M-03 2.56 mm gives shim 2.55, and shim 2.60 is written']);
    expect(told({ 'C-01/4': '2.5' })).toEqual(['C-01/4 shim: M-03 2.53 mm gives what is in stays, and shim 2.50 is written']);
    expect(told({ 'C-01/3': 'stays' })).toEqual(['C-01/3 shim: M-03 2.64 mm gives shim 2.65, and what is in stays is written']);
    expect(told({ 'C-01/2': 'from the drawer', 'C-01/3': 'shim', 'C-01/1': '' })).toEqual([]);
    const thick = { 'M-02/3': '2.60', 'M-03/3': '2.69' };
    expect(told(thick)).toEqual(['C-01/3 shim: M-03 2.69 mm lies outside the table.']);
  });

  it('tells what was worked out otherwise', () => {
    expect(told({ 'M-03/3': '2.46' })).toEqual([
      'M-03 shim that is wanted is M-02 + M-01 \u2212 0.21 mm, and that gives 2.59 mm, 2.56 mm, 2.64 mm, 2.53 mm',
      'C-01/3 shim: M-03 2.46 mm lies outside the table.',
    ]);
    expect(told({ 'M-03/3': '2.65' })).toHaveLength(1);
  });

  it('tells which of several readings lies outside, as the job leaves it', () => {
    expect(told({ 'M-01.2/2': '0.26' })).toEqual(['M-01.2 valve clearance: 0.26 mm FAILS 0.18 to 0.24 mm. Outside: Another shim.']);
  });
});

describe('what cannot be worked out is told', () => {
  it.each<[string, readonly Parameters<typeof libraryWith>[1][number][], string]>([
    [
      'from itself',
      [[vehicle, 'plus: [shim-in, clearance]', 'plus: [shim-in, shim-wanted]']],
      'measurement/cannot-calculate velm-12.yaml `shim-wanted` is itself',
    ],
    [
      'in a circle',
      [[vehicle, 'name: shim that is in, unit: mm,', 'name: shim that is in, unit: mm, calculated: { plus: [shim-wanted] },']],
      'measurement/cannot-calculate velm-12.yaml `shim-wanted` is itself worked out from `shim-in`',
    ],
    [
      'from another kind',
      [[vehicle, 'name: shim that is in, unit: mm', 'name: shim that is in, unit: bar']],
      'measurement/cannot-calculate velm-12.yaml `shim-in` is in bar',
    ],
    [
      'with another kind',
      [[vehicle, 'constant: -0.21 mm', 'constant: -0.21 bar']],
      'measurement/cannot-calculate velm-12.yaml `constant: -0.21 bar` measures',
    ],
    [
      'from another number',
      [[vehicle, 'unit: mm, points: 4', 'unit: mm, points: 3']],
      'measurement/cannot-calculate velm-12.yaml `shim-in` has 3 readings',
    ],
    [
      'from what is not there',
      [[vehicle, 'plus: [shim-in, clearance]', 'plus: [shim-inn, clearance]']],
      'reference/unknown-in-profile velm-12.yaml There is no measurement `shim-inn`. Did you mean `shim-in`?',
    ],
    [
      'from what is measured later',
      [[work, '  - measure: shim-in\n  - measure: shim-wanted\n', '  - measure: shim-wanted\n  - measure: shim-in\n']],
      'measurement/not-measured valve-clearance.yaml `shim-wanted` is worked out from `shim-in`',
    ],
    [
      'by what lets it stay and is not there',
      [[vehicle, 'stays: clearance', 'stays: clearances']],
      'reference/unknown-in-profile velm-12.yaml There is no measurement `clearances`. Did you mean `clearance`?',
    ],
  ])('%s', (_, changes, message) => {
    expect(rules(...changes)).toContainEqual(expect.stringContaining(message));
  });

  it('however often one is worked out from another, it is answered', () => {
    const chain = Array.from(
      { length: 30 },
      (_, n) =>
        `  m-${n}: { name: m${n}, unit: mm, points: 4, takes: each, calculated: { plus: [${Array(8)
          .fill(`m-${(n + 1) % 30}`)
          .join(', ')}] } }\n`,
    ).join('');
    const round = rules([vehicle, '  shim-wanted:\n', `${chain}  shim-wanted:\n`], [vehicle, 'plus: [shim-in,', 'plus: [m-0, shim-in,']);
    expect(round.filter((one) => one.startsWith('measurement/cannot-calculate'))).toHaveLength(30);
    const straight = chain.replace(/m-0, m-0.*(?=\])/, 'shim-in');
    const [wanted] = compiled(
      shopWith([vehicle, '  shim-wanted:\n', `${straight}  shim-wanted:\n`], [vehicle, 'plus: [shim-in,', 'plus: [m-0,']),
      'valves',
    ).measurements.flatMap(({ code, expected }) => (code === 'M-03' ? [expected] : []));
    expect(wanted).toMatch(/^\d+\.\d+ mm|^\de\+/);
  });

  it('and nothing that follows from it', () => {
    const faults: [string, string, string][] = [
      [vehicle, 'plus: [shim-in,', 'plus: [shim-inn,'],
      [vehicle, 'constant: -0.21 mm', 'constant: -0.21'],
      [vehicle, 'calculated: {', 'computed: {'],
    ];
    for (const fault of faults) expect(rules(fault)).toEqual([expect.stringMatching(/^(reference|quantity|schema)\/\S+ velm-12\.yaml /)]);
  });

  it('what it comes to is told where the readings begin', () => {
    const [outside] = found(shopWith([order, '2.65 mm', '26.5 mm'])).filter(({ rule }) => rule === 'measurement/outside-table');
    expect(outside?.message).toMatch(/^`shim-wanted` comes to 26\.41 mm, which lies outside the table of `shim`/);
    expect(outside?.line).toBe('measured:');
  });

  it('in one step, what stands first comes first', () => {
    expect(rules([work, '  - measure: shim-in\n  - measure: shim-wanted\n', '  - measure: [shim-in, shim-wanted]\n'])).toEqual([]);
  });
});
