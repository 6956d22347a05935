import { describe, expect, it } from 'vitest';
import { baySheet } from '../src/layout/bay-sheet.js';
import type { Scope } from '../src/library/scope.js';
import { isHeatedByEngine, unsaidDangersOf } from '../src/rules/danger-names.js';
import { isEngineless } from '../src/rules/engineless.js';
import type { Charge, Fluid, Part } from '../src/schema/generated/types.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoWith, found } from './helpers/shop.js';

const scopeWith = (
  parts: Record<string, Partial<Part>>,
  fluids: Record<string, Partial<Fluid>> = {},
  charges: Record<string, Partial<Charge>> = {},
) =>
  ({
    things: {},
    parts: new Map(Object.entries(parts)),
    fluids: new Map(Object.entries(fluids)),
    charges: new Map(Object.entries(charges)),
  }) as unknown as Scope;

const dangerOf = (id: string, part: Partial<Part> = {}): string | undefined => unsaidDangersOf(scopeWith({ [id]: part })).get(id)?.hazard;

// Names as workshops have them; common practice, no source.
describe('what can hurt, by its name', () => {
  it.each([
    ['restraint', ['airbag', 'driver-airbag', 'air-bag-module', 'belt-pretensioner', 'seat-belt-pre-tensioner', 'gurtstraffer-links']],
    [
      'refrigerant',
      ['ac-compressor', 'refrigerant-line', 'air-conditioning-condenser', 'a-c-hose', 'kaeltemittelleitung', 'klimakompressor'],
    ],
    [
      'high-voltage',
      [
        'high-voltage-cable',
        'hv-battery',
        'traction-battery',
        'cover-of-the-battery-pack',
        'inverter',
        'hochvolt-kabel',
        'traktionsbatterie',
      ],
    ],
    [
      'fuel-pressure',
      ['fuel-rail', 'common-rail', 'high-pressure-pump', 'fuel-feed-line', 'injection-pipes', 'kraftstoffverteiler', 'hochdruckleitung'],
    ],
    ['hydraulic', ['pressure-accumulator', 'druckspeicher']],
    [
      'compressed-air',
      ['air-spring', 'air-tanks', 'air-lines-of-the-rear-axle', 'luftfeder-links', 'druckluftleitung', 'rear-brake-chambers'],
    ],
    ['spring', ['coil-spring', 'valve-springs', 'spring-brake-chamber', 'schraubenfeder', 'federspeicher']],
    ['gas', ['lpg-tank', 'cng-valve', 'erdgas-tank']],
    ['flammable', ['fuel-tank', 'petrol-hose', 'gas-tank', 'gasoline-filter', 'kraftstofftank', 'benzinleitung']],
  ])('%s', (hazard, names) => {
    for (const name of names) expect([name, dangerOf(name)]).toEqual([name, hazard]);
    // The id may say nothing, and the name all.
    expect(dangerOf('x', { name: names[0]?.replaceAll('-', ' ').toUpperCase() ?? '' })).toBe(hazard);
  });

  it.each(
    'airbag-lamp airbag-switch ac-belt ac-charging-socket klimakompressor-riemen fuel-return-line fuel-filler-cap fuel-gauge fuel-filter rail-pressure-sensor timing-belt-tensioner return-spring clutch-spring handrail trailer high-voltage-label service-plug hydraulic-lifter gasket gas-strut air-tank-drain druckluftbehaelter-entwaesserung air-filter charge-air-pipe intake-air-line ladeluftleitung injectors accelerator fuel-tank-straps tankdeckel kraftstofftank-halter fuel-tank-cap diesel-filter'.split(
      ' ',
    ),
  )('%s is left alone', (name) => {
    expect(dangerOf(name)).toBeUndefined();
  });

  it('said of the part, of its circuit, or of another part of it: it is said', () => {
    const circuit = 'fuel';
    expect(unsaidDangersOf(scopeWith({ 'fuel-rail': { circuit } })).size).toBe(1);
    for (const scope of [
      scopeWith({ 'fuel-rail': { circuit, hazard: 'fuel-pressure' } }),
      scopeWith({ 'fuel-rail': { circuit }, pipes: { circuit: ['air', circuit], hazard: 'fuel-pressure' } }),
      scopeWith({ 'fuel-rail': { circuit } }, { fuel: { hazard: 'fuel-pressure' } }),
      scopeWith({ 'ac-compressor': { circuit: 'r134a' } }, {}, { r134a: { hazard: 'refrigerant' } }),
    ])
      expect([...unsaidDangersOf(scope)]).toEqual([]);
    expect([...unsaidDangersOf(scopeWith({ 'fuel-rail': { circuit }, lid: { circuit: 'oil', hazard: 'hot' } }))]).toEqual([
      ['fuel-rail', { hazard: 'fuel-pressure', at: 'fuel-rail' }],
    ]);
    // A compressor behind its lines is open only when they are off.
    const behindLines = (charge: Partial<Charge>) =>
      [...unsaidDangersOf(scopeWith({ line: { circuit: 'r134a' }, 'ac-compressor': { behind: ['line'] } }, {}, { r134a: charge }))].map(
        ([id]) => id,
      );
    expect(behindLines({ hazard: 'refrigerant' })).toEqual([]);
    expect(behindLines({})).toEqual(['line', 'ac-compressor']);
    expect([...unsaidDangersOf(scopeWith({ line: { circuit: 'r134a' } }, {}, { r134a: {} }))]).toEqual([
      ['line', { hazard: 'refrigerant', at: 'r134a' }],
    ]);
  });
});

// Names as workshops have them; common practice, no source.
it.each([
  [true, ['coolant', 'engine-coolant', 'antifreeze', 'kuehlmittel', 'kuehlwasser', 'motorkuehlfluessigkeit']],
  [
    false,
    [
      'battery-coolant',
      'inverter-coolant',
      'hv-coolant',
      'e-motor-coolant',
      'washer-antifreeze',
      'cutting-coolant',
      'kuehlmittel-batterie',
      'brake-fluid',
    ],
  ],
])('what an engine heats, by its name: %s', (is, names) => {
  for (const name of names) expect([name, isHeatedByEngine(name, {})]).toEqual([name, is]);
  expect(isHeatedByEngine('x', { name: names[0]?.replaceAll('-', ' ').toUpperCase() ?? '' })).toBe(is);
});

it('what has a glycol is a coolant, whatever it is called; of a battery it is not that of an engine', () => {
  expect(isHeatedByEngine('blue', { glycol: 'ethylene' })).toBe(true);
  expect(isHeatedByEngine('blue', { name: 'for the battery', glycol: 'ethylene' })).toBe(false);
});

describe('a vehicle without an engine', () => {
  const pack = { 'pack-cover': { name: 'cover of the battery pack', hazard: 'high-voltage' } } as const;
  it('has high voltage, and nothing that an engine has', () => {
    expect(isEngineless(scopeWith(pack, { 'battery-coolant': { name: 'coolant of the battery circuit' } }))).toBe(true);
    expect(isEngineless(scopeWith(pack, { 'engine-oil': {} }))).toBe(false);
    expect(isEngineless(scopeWith({ ...pack, auspuff: { name: 'Auspuff vorn' } }))).toBe(false);
    expect(isEngineless(scopeWith({ 'hub-bearing': { name: 'hub bearing' } }))).toBe(false);
  });

  it('is not told that its engine does not run, and its sheet does not say that it does', () => {
    const reading = [
      '/shop/procedures/coolant-plate.yaml',
      'final:\n',
      'final:\n  running:\n    - test: battery-pump\n      says: It hums and the coolant moves.\n',
    ] as const;
    const told = (library: ReturnType<typeof demoWith>) => found(library).map(({ rule }) => rule);
    expect(told(demoWith(reading))).toEqual([]);
    const oil = ['/shop/vehicles/liddel-e.yaml', 'parts:\n', 'parts:\n  oil-cap: { name: cap of the engine oil }\n'] as const;
    expect(told(demoWith(reading, oil))).toEqual(['order/engine-not-started']);
    const words = wordsOn(baySheet(compiled(demoWith(reading), '2050-coolant-plate'), measure));
    expect(words).toContain('Ignition on');
    expect(words).not.toContain('engine running');
    expect(wordsOn(baySheet(compiled(demoWith(), '2041-head-gasket'), measure))).toContain('Ignition on, engine running');
  });
});
