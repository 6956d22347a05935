// What people write where one value with its unit belongs, and what they are told.
import { describe, expect, it } from 'vitest';
import { readDocument } from '../src/library/document.js';
import { parseQuantity } from '../src/quantity/quantity.js';
import type { Dimension } from '../src/quantity/units.js';
import { demoWith, found } from './helpers/shop.js';

const told = (text: string, dimension: Dimension | 'any'): string => {
  const parsed = parseQuantity(text, dimension);
  return parsed.ok ? 'read' : `${parsed.problem}: ${parsed.message.replace(`“${text}” `, '')}`;
};

describe('more than one value', () => {
  const angle = 'Torque and angle are stages of their own: stages: [{ torque: 25 N·m }, { angle: 90 deg }].';
  it.each<[string, Dimension | 'any', string]>([
    ['25 Nm + 90°', 'torque', angle],
    ['25 Nm, then 90 deg', 'torque', angle],
    ['25 Nm und 90°', 'torque', angle],
    ['25 Nm 90°', 'torque', angle],
    ['25 Nm + 90° + 45°', 'torque', angle.replace(' }]', ' }, { angle: 45 deg }]')],
    ['25-30 Nm', 'torque', 'Write a range with two dots: 25..30 Nm.'],
    ['25 to 30 Nm', 'torque', 'Write a range with two dots: 25..30 Nm.'],
    ['25 Nm – 30 Nm', 'torque', 'Write a range with two dots: 25..30 Nm.'],
    ['0.05-0.1 mm', 'any', 'Write a range with two dots: 0.05..0.1 mm.'],
    ['25 Nm ±10%', 'torque', 'Write the tolerance before the unit: 25 ±10% Nm.'],
    ['25 Nm ± 2 Nm', 'torque', 'Write the tolerance before the unit: 25 ±2 Nm.'],
    ['25 Nm (dry)', 'torque', 'Write the value alone: 25 Nm. What else is to be said stands under a key of its own.'],
    ['max 25 Nm (18 lbf·ft)', 'torque', 'Write the value alone: max 25 Nm. What else is to be said stands under a key of its own.'],
    ['20..25 lbf ft dry', 'torque', 'Write the value alone: 20..25 lbf ft. What else is to be said stands under a key of its own.'],
    ['30 Nm + threadlocker', 'torque', 'Write the value alone: 30 Nm. What else is to be said stands under a key of its own.'],
    ['12 V DC', 'any', 'Write the value alone: 12 V. What else is to be said stands under a key of its own.'],
    ['25Nm/18ft-lb', 'torque', 'One is needed: 25 N·m or 18 lbf·ft.'],
    ['24.1 mm, 24.2 mm', 'any', 'One is needed: 24.1 mm or 24.2 mm.'],
    ['1 h 30 min', 'time', 'Write one number: 90 min.'],
    ['1h30', 'time', 'Write one number: 90 min.'],
    ['25 +3/-2 Nm', 'torque', 'Write from where to where it may be, with two dots: 23..28 Nm.'],
    ['25 Nm (+3 -2)', 'torque', 'Write from where to where it may be, with two dots: 23..28 Nm.'],
    ['25 -0.02/-0.041 mm', 'any', 'Write from where to where it may be, with two dots: 24.959..24.98 mm.'],
    ['10 0/-0.2 mm', 'any', 'Write from where to where it may be, with two dots: 9.8..10 mm.'],
    ['10 +0.2 mm', 'any', 'Write from where to where it may be, with two dots: 10..10.2 mm.'],
  ])('%s (%s)', (text, dimension, advice) => {
    expect(told(text, dimension)).toBe(`unreadable: is not one value. ${advice}`);
  });

  it.each(['25 N/m', '20 mm dry', '25 Nm +', '25 Nm ±', '25 - Nm', '1/0/2 Nm'])('%s is none of these', (text) => {
    expect(told(text, 'torque')).toMatch(/^unknown-unit: /);
  });

  it('is not a unit that is misspelt', () => {
    expect(told('100 km h', 'any')).toMatch(/^unknown-unit: /);
  });

  it('may not stand where one value alone may', () => {
    const change = (length: string) => found(demoWith(['/shop/shop.yaml', 'length: 260 mm', `length: ${length}`]));
    expect(change('260-270 mm').map(({ rule }) => rule)).toEqual(['quantity/not-one']);
  });
});

describe('a limit in words', () => {
  it.each([
    ['up to 0.5 mm', 'max 0.5 mm'],
    ['0.5mm max.', 'max 0.5mm'],
    ['0.5 mm (max)', 'max 0.5 mm'],
    ['maximum: 0.5 mm', 'max 0.5 mm'],
    ['max = 0.5 mm', 'max 0.5 mm'],
    ['not more than 1/2 in', 'max 1/2 in'],
    ['below -0.7 bar', 'max -0.7 bar'],
    ['höchstens 0.5 mm', 'max 0.5 mm'],
    ['0.5 mm or more', 'min 0.5 mm'],
    ['at least 30 min', 'min 30 min'],
    ['min. 30 min', 'min 30 min'],
    ['nicht unter 5 bar', 'min 5 bar'],
    ['between 0.1 and 0.5 mm', '0.1..0.5 mm'],
    ['from 0.1 mm to 0.5 mm', '0.1..0.5 mm'],
    ['zwischen 0.1 und 0.5 mm', '0.1..0.5 mm'],
  ])('%s', (text, write) => {
    expect(told(text, 'any')).toBe(`unreadable: says a limit in words. Write ${write}.`);
    expect(told(write, 'any')).toBe('read');
  });

  it.each(['under the limit', 'from', 'over 5 of them', 'max'])('%s is none', (text) => {
    expect(told(text, 'any')).not.toContain('says a limit in words');
  });

  it('may not stand where a limit may not', () => {
    const change = (torque: string) => found(demoWith(['/shop/vehicles/marn-20.yaml', 'torque: 35 N·m', `torque: ${torque}`]));
    expect(change('up to 35 N·m').map(({ rule, message }) => `${rule} ${message}`)).toEqual([
      'quantity/not-one “up to 35 N·m” is a limit, and nothing can be set or poured by it. Write the value itself, 35 N·m, or a range with two dots.',
    ]);
  });
});

describe('one quantity as several', () => {
  const [vehicle, limit] = ['/shop/vehicles/pellan-14.yaml', 'limit: max 5 mbar'];
  const told = (measured: string) => found(demoWith([vehicle, limit, measured])).map(({ message }) => message);

  it.each([
    ['{ max: 5 mbar }', 'max 5 mbar'],
    ['{ min: 1 mbar, max: 5 mbar }', '1..5 mbar'],
    ['{ from: 1, to: 5, unit: mbar }', '1..5 mbar'],
    ['[1 mbar, 5 mbar]', '1..5 mbar'],
    ['{ nominal: 3 mbar, tolerance: 2 mbar }', '3 ±2 mbar'],
    ['{ value: 5, unit: mbar }', '5 mbar'],
    ['{ reading: 5 mbar }', '5 mbar'],
  ])('limit: %s', (written, write) => {
    const what = written.startsWith('[') ? 'a list' : 'a group of keys';
    expect(told(`limit: ${written}`)).toEqual([
      `\`limit\` must be a text, but ${what} stands here. Write \`${write}\`. The limit with its unit: \`max 0.05 mm\`, \`min 23.5 mm\`, \`47..53 %\`.`,
    ]);
  });

  it.each([
    '{ max: 5 }',
    '{ tolerance: 5 mbar }',
    '{ unit: mbar }',
    '{ value: 3 mbar, max: 5 mbar }',
    '{ min: 1 mbar, max: 5 bar }',
    '{ max: 5 mbar, at: idle }',
    '[1 mbar]',
    '[1 mbar, 3 mbar, 5 mbar]',
  ])('limit: %s cannot be said for the author', (written) => {
    expect(told(`limit: ${written}`)).toEqual([expect.stringMatching(/stands here\. The limit with its unit/)]);
  });

  it('is told once where the least and the most are keys of their own', () => {
    expect(told('max: 5 mbar')).toEqual([expect.stringContaining('`max` is not a key of `vacuum-hold`. Write `limit: max 5 mbar`.')]);
    expect(told('min: 1 mbar, max: 5 mbar')).toEqual([expect.stringContaining('Write `limit: 1..5 mbar`.')]);
  });

  it('is no torque where it is the most', () => {
    const change = (torque: string) => found(demoWith(['/shop/vehicles/marn-20.yaml', 'torque: 35 N·m', `torque: ${torque}`]));
    expect(change('{ max: 35 N·m }').map(({ message }) => message)).toEqual([
      '`torque` must be a text, but a group of keys stands here. Tighten to this torque.',
    ]);
  });
});

describe('a document', () => {
  const read = (text: string) => readDocument({ path: 'x.yaml', text }, false).findings.map(({ rule, message }) => `${rule}: ${message}`);
  const parts = (offer: string) =>
    read(`kind: parts\nid: one\nfor: any\ndate: "2026-01-01"\nitems: { pad: { name: pad } }\noffers:\n  - ${offer}\n`);

  it.each(['2026-02-29', '2026-13-01', '2026-04-31', '2026-00-10', '2100-02-29', '0226-11-25', '9999-12-31'])('has no day %s', (day) => {
    expect(read(`kind: job\nid: one\ndate: ${day}\nvehicle: v\nwork: [w]\n`)).toEqual([
      `schema/wrong-form: “${day}” is no day of the calendar from 1900 to 2199. Date of the job: printed on every sheet. Written year-month-day, for example 2026-11-25.`,
    ]);
  });

  it.each(['2028-02-29', '2000-02-29', '2026-12-31'])('may have the day %s', (day) => {
    expect(read(`kind: job\nid: one\ndate: ${day}\nvehicle: v\nwork: [w]\n`)).toEqual([]);
  });

  it('shows how the value of a key is written by that key, and not by another of its kind', () => {
    const order = (odometer: string) => read(`kind: job\nid: one\ndate: 2026-01-01\nvehicle: v\nwork: [w]\nodometer: ${odometer}\n`);
    expect(order('1250 h')).toEqual([
      'quantity/wrong-dimension: “1250 h” is a time, but a length is needed here, for example 184320 km. Is it `hours: 1250 h`?',
    ]);
    expect(order('new')).toEqual(['quantity/unreadable: “new” is not a number with a unit. Write, for example, 184320 km.']);
  });

  it('asks for each work once', () => {
    expect(read('kind: job\nid: one\ndate: 2026-01-01\nvehicle: v\nwork: [w, x, w]\n')).toEqual([
      'schema/out-of-range: `work` names `w` twice. Delete one of them, or write what was meant.',
    ]);
  });

  it.each([
    ['1.054,90', '1054.90'],
    ['54,90', '54.90'],
    ['"1.054,90"', '1054.90'],
    ['12.345.678,9', '12345678.9'],
  ])('has a price of %s', (written, meant) => {
    expect(parts(`{ number: P-1, contains: { pad: 1 }, price: ${written} }`)).toEqual([
      `quantity/decimal-comma: “${written.replaceAll('"', '')}” has a decimal comma. Write a point: ${meant}.`,
    ]);
  });

  it.each(['1 set', 'one', '"2"'])('contains %s', (written) => {
    expect(parts(`{ number: P-1, contains: { pad: ${written} }, price: 4.90 }`)).toEqual([
      expect.stringMatching(/ is no amount\. Write how many there are in it \(2\), or how much with its unit \(5 L, 100 g\)\.$/),
    ]);
  });
});

describe('what is written in the place of stages, counts and prices', () => {
  const read = (text: string) => readDocument({ path: 'x.yaml', text }, false).findings.map(({ message }) => message);
  const group = (said: string) =>
    read(`kind: vehicle\nid: one\nname: One\nfasteners:\n  nut: { count: 1, thread: M8x1.25, drive: 13 AF, ${said} }\n`);
  const offer = (said: string) =>
    read(
      `kind: parts\nid: one\nname: One\nfor: any\ndate: "2026-01-01"\nitems: { pad: { name: pad } }\noffers:\n  - { number: P-1, ${said} }\n`,
    );

  it.each([
    ['torque: 25 Nm', '[{ torque: 25 Nm }]'],
    ['torque: 80 Nm + 90°', '[{ torque: 80 N·m }, { angle: 90 deg }]'],
    ['torque: 60-70 Nm', '[{ torque: 60..70 Nm }]'],
    ['torque: 10Nm (7 ft-lb)', '[{ torque: 10 Nm }]'],
    ['torques: 80 Nm + 90° + 45°', '[{ torque: 80 N·m }, { angle: 90 deg }, { angle: 45 deg }]'],
  ])('%s', (said, stages) => {
    const [key] = said.split(':');
    expect(group(`reuse: always, ${said}`)).toEqual([`\`${key}\` is not a key of \`nut\`. Write \`stages: ${stages}\`.`]);
  });

  it('stages, of which a text is one', () => {
    expect(group('reuse: always, stages: 80 Nm + 90°')).toEqual([
      expect.stringContaining('Write `[{ torque: 80 N·m }, { angle: 90 deg }]`.'),
    ]);
    expect(group('reuse: always, torque: by the book')).toEqual([expect.stringContaining('Write `stages`: the stages of tightening')]);
  });

  it.each([
    ['yes', 'always'],
    ['no', 'never'],
    ['once', 'never'],
  ])('reuse: %s', (said, value) => {
    expect(group(`reuse: ${said}, stages: [{ torque: 25 Nm }]`)).toEqual([
      expect.stringContaining(`“${said}” cannot be \`reuse\`. Write \`${value}\`. How often it is used`),
    ]);
  });

  it.each([
    ['contains: pad', '{ pad: 1 }'],
    ['contains: [pad, shim]', '{ pad: 1, shim: 1 }'],
  ])('%s', (said, write) => {
    expect(offer(`${said}, price: 4.90`)).toEqual([expect.stringContaining(`Write \`${write}\`.`)]);
  });

  it.each([
    ['£4.90', 'the number alone: 4.90'],
    ['4.90 €', 'the number alone: 4.90'],
    ['GBP 4.90', 'the number alone: 4.90'],
    ['free', 'a plain number such as 74.50'],
    ['4.90/pair of 2', 'a plain number such as 74.50'],
  ])('price: %s', (said, write) => {
    expect(offer(`contains: { pad: 1 }, price: ${said}`)).toEqual([`“${said}” cannot be \`price\`. Write ${write}.`]);
  });
});

it('what is named one by one where it is asked how many there are is counted', () => {
  const told = (points: string) =>
    readDocument(
      { path: 'x.yaml', text: `kind: vehicle\nid: v\nname: V\nmeasurements: { a: { name: a, points: ${points} } }\n` },
      false,
    ).findings.map(({ message }) => message);
  expect(told('[plus, minus]')).toEqual([
    '`points` must be a whole number, but a list stands here. Write `2`. How many readings, one blank each.',
  ]);
  expect(told('[]')).toEqual(['`points` must be a whole number, but a list stands here. How many readings, one blank each.']);
});

describe('below zero', () => {
  it.each<[string, Dimension, string]>([
    ['-25 Nm', 'torque', 'is below zero: write a torque above zero, for example 25 N·m.'],
    ['0 Nm', 'torque', 'is nothing: write a torque above zero, for example 25 N·m.'],
    ['-5..5 Nm', 'torque', 'is below zero: write a torque above zero, for example 25 N·m.'],
    ['-90 deg', 'angle', 'is below zero: write an angle above zero, for example 90 deg.'],
    ['0 deg', 'angle', 'is nothing: write an angle above zero, for example 90 deg.'],
    ['0 L', 'volume', 'is nothing: write a volume above zero, for example 7.8 L.'],
    ['-3 min', 'time', 'is below zero: write a time of zero or more, for example 20 min.'],
    ['-5 L', 'volume', 'is below zero: write a volume above zero, for example 7.8 L.'],
  ])('%s is no %s', (text, dimension, advice) => {
    expect(told(text, dimension)).toBe(`out-of-range: ${advice}`);
  });

  it('is a temperature, a reading, and what begins at nothing', () => {
    for (const [text, dimension] of [
      ['-5 °C', 'temperature'],
      ['-0.02 mm', 'any'],
      ['0..2 N·m', 'torque'],
      ['0 h', 'time'],
    ] as const)
      expect(told(text, dimension)).toBe('read');
    expect(parseQuantity('-90 deg', 'angle', true).ok).toBe(true);
  });

  it.each([
    ['/shop/vehicles/marn-20.yaml', 'ignition-off: 3 min', 'ignition-off: -3 min', 'quantity/out-of-range'],
    ['/shop/procedures/clutch.yaml', 'time: 25 min, after: []', 'time: -25 min, after: []', 'quantity/out-of-range'],
    ['/shop/parts/marn.yaml', 'price: 212.00', 'price: -212.00', 'quantity/out-of-range'],
  ])('is told in %s: %s', (file, from, to, rule) => {
    expect(found(demoWith([file, from, to])).map((one) => one.rule)).toContain(rule);
  });

  it('may be the angle of an adapter', () => {
    const shop = (angle: string) =>
      `kind: shop\nid: one\nname: One\ncurrency: EUR\nrates: { a: 60.00 }\ntaxes: { standard: 20 % }\ntools:\n  F: { type: adapter, offset: 40 mm, angle: ${angle} }\n`;
    const rules = (text: string) => readDocument({ path: 'shop.yaml', text }, false).findings.map(({ rule }) => rule);
    expect(rules(shop('-45 deg'))).toEqual([]);
    expect(rules(shop('-45 mm'))).toEqual(['quantity/wrong-dimension']);
  });
});

it('an instrument is held against the size of a limit: below nothing as above it, and nothing at all is read at the first mark', () => {
  const told = (limit: string, resolution: string) =>
    found(
      demoWith([
        '/shop/vehicles/pellan-14.yaml',
        'limit: max 5 mbar, with: refrigerant station, resolution: 1 mbar',
        `limit: ${limit}, with: refrigerant station, resolution: ${resolution}`,
      ]),
    ).map(({ rule }) => rule);
  for (const [limit, fine, coarse] of [
    ['max -0.7 bar', '0.1 bar', '0.3 bar'],
    ['min -950 mbar', '50 mbar', '500 mbar'],
    ['-0.9..-0.7 bar', '0.02 bar', '0.1 bar'],
  ] as const) {
    expect(told(limit, fine), limit).toEqual([]);
    expect(told(limit, coarse), limit).toEqual(['measurement/coarse-instrument']);
  }
  expect(told('max 0 mbar', '1 mbar')).toEqual([]);
});

it('a feeler gauge goes in or does not: a leaf within the limit is enough', () => {
  const told = (tool: string, limit: string, resolution: string) =>
    found(
      demoWith([
        '/shop/vehicles/sillane-16.yaml',
        'measurements:\n',
        `measurements:\n  valve-gap: { code: M-90, name: valve clearance, limit: ${limit}, with: ${tool}, resolution: ${resolution}, outside: Set it. }\n`,
      ]),
    ).flatMap(({ rule }) => (rule === 'measurement/coarse-instrument' ? [rule] : []));
  const coarse = ['measurement/coarse-instrument'];
  for (const tool of ['feeler gauges', 'Fühlerlehre', 'Ventillehre', 'plug gauge', 'thickness gauges']) {
    expect(told(tool, '0.004..0.006 in', '0.001 in'), tool).toEqual([]);
    expect(told(tool, '0.10..0.15 mm', '0.1 mm'), tool).toEqual(coarse);
  }
  for (const tool of ['dial gauge', 'micrometer', 'height gauge']) expect(told(tool, '0.004..0.006 in', '0.001 in'), tool).toEqual(coarse);
});

describe('one value, where one belongs', () => {
  const [tarrock, marn, clutch] = ['/shop/vehicles/tarrock-35.yaml', '/shop/vehicles/marn-20.yaml', '/shop/procedures/clutch.yaml'];
  const told = (...change: readonly [string, string, string]) => found(demoWith(change)).map(({ rule, message }) => `${rule} ${message}`);

  it.each([
    [marn, 'torque: 35 N·m', 'torque: max 35 N·m', '“max 35 N·m” is a limit.*Write the value itself, 35 N·m'],
    [marn, 'angle: 50 deg', 'angle: min 50 deg', '“min 50 deg” is a limit.*the value itself, 50 deg'],
    [marn, 'capacity: 2.1 L', 'capacity: ≤ 2.1 L', '“≤ 2.1 L” is a limit'],
    [tarrock, 'target: 50 %', 'target: 45..55 %', '“45..55 %” is a range.*for example 50 %'],
    [clutch, 'alone: 40 min', 'alone: 40 ±5 min', '“40 ±5 min” has a tolerance.*Write 40 min'],
    [
      '/shop/jobs/2047-clutch.yaml',
      'odometer: 164900 km',
      'odometer: min 164900 km',
      '“min 164900 km” is a limit, and one value.*Write 164900 km, if that is it',
    ],
    [
      '/shop/jobs/2049-receiver.yaml',
      'refrigerant-recovered: 410 g',
      'refrigerant-recovered: 400..420 g',
      '“400..420 g” is a range.*410 g',
    ],
    ['/shop/parts/marn.yaml', 'gearbox-oil: 1 L', 'gearbox-oil: max 1 L', '“max 1 L” is a limit'],
    ['/shop/shop.yaml', 'validity: 30 d', 'validity: max 30 d', '“max 30 d” is a limit'],
    [marn, 'ignition-off: 3 min', 'ignition-off: max 3 min', '“max 3 min” says when it is over.*Write 3 min'],
    ['/shop/procedures/head-gasket.yaml', 'wait: 120 min', 'wait: max 2 h', '“max 2 h” says when it is over.*Write 2 h'],
    ['/shop/shop.yaml', 'lift: 4500 kg', 'lift: min 4500 kg', '“min 4500 kg” says the least.*Write 4500 kg'],
  ])('%s: %s, not %s', (file, from, to, message) => {
    expect(told(file, from, to).filter((one) => one.startsWith('quantity/'))).toEqual([
      expect.stringMatching(`^quantity/not-one ${message}`),
    ]);
  });

  it.each([
    [marn, 'torque: 35 N·m', 'torque: 33..37 N·m'],
    [marn, 'capacity: 2.1 L', 'capacity: 2.1 ±0.1 L'],
    [marn, 'ignition-off: 3 min', 'ignition-off: min 3 min'],
    [marn, 'mass: 1490 kg', 'mass: max 1490 kg'],
    ['/shop/procedures/head-gasket.yaml', 'wait: 120 min', 'wait: min 2 h'],
    ['/shop/shop.yaml', 'lift: 4500 kg', 'lift: max 4500 kg'],
  ])('%s: %s, and %s as well', (file, from, to) => {
    expect(told(file, from, to)).toEqual([]);
  });
});

// A unit that is a slip of another: what no vehicle, no part and no operation has; common practice, no source.
describe('a unit that cannot be', () => {
  const told = (...change: readonly [string, string, string]) => found(demoWith(change)).map(({ rule }) => rule);
  const [tarrock, marn, pellan, estate] = ['tarrock-35', 'marn-20', 'pellan-14', 'pellan-estate'].map((id) => `/shop/vehicles/${id}.yaml`);

  it.each([
    [pellan, 'charge: 540 ±15 g', 'charge: 540 ±15 kg', 'fluid/unlikely-charge'],
    [pellan, 'oil: 20 mL', 'oil: 20 L', 'fluid/unlikely-charge'],
    ['/shop/jobs/2049-receiver.yaml', 'refrigerant-recovered: 410 g', 'refrigerant-recovered: 410 kg', 'fluid/unlikely-charge'],
    [tarrock, 'dry-fill: 9.6 L', 'dry-fill: 9.6 mL', 'fluid/capacity'],
    [tarrock, 'dry-fill: 9.6 L', 'dry-fill: 9.6 imp gal', 'fluid/capacity'],
    [tarrock, 'recovers: 8.0 L', 'recovers: 8.0 mL', 'fluid/capacity'],
    [tarrock, 'mass: 31 kg', 'mass: 31 t', 'hazard/unlikely-mass'],
    [marn, 'mass: 14 kg', 'mass: 14 g', 'hazard/unlikely-mass'],
    ['/shop/vehicles/liddel-e.yaml', 'high-voltage: 10 min', 'high-voltage: 10 s', 'hazard/short-wait'],
    ['/shop/procedures/clutch.yaml', 'time: 25 min', 'time: 25 d', 'labour/unlikely-time'],
    ['/shop/procedures/coolant-plate.yaml', 'time: 3.2 h', 'time: 3.2 d', 'labour/unlikely-time'],
    ['/shop/procedures/coolant-plate.yaml', 'time: 3.2 h', 'time: 3.2 s', 'labour/unlikely-time'],
    ['/shop/jobs/2047-clutch.yaml', 'odometer: 164900 km', 'odometer: 164900 m', 'job/odometer'],
    ['/shop/parts/liddel.yaml', 'battery-coolant: 5 L', 'battery-coolant: 5 mL', 'parts/unlikely-count'],
    [estate, '{ torque: 110 N·m, after: distance', '{ torque: 110 lbf·in, after: distance', 'torque/stage-order'],
  ])('%s: %s, not %s', (file = '', from, to, rule) => {
    // It is told once, and nothing that only follows from it.
    expect([...new Set(told(file, from, to))]).toEqual([rule]);
  });
});
