// What comes out decides how often a fluid is changed; a circuit that is only opened says nothing of it.
import { describe, expect, it } from 'vitest';
import { filesOfExample } from '../src/rules/example-library.js';
import { rule } from '../src/rules/fluid/unknown-drain.js';
import { wayThrough } from '../src/resolve/fluids/ways.js';
import { compiled, found, libraryWith } from './helpers/shop.js';

const base = Object.fromEntries(Object.entries(filesOfExample(rule.good).all).map(([name, text]) => [`/shop/${name}`, text]));
const van = '/shop/vehicles/sample-van.yaml';
const work = '/shop/procedures/example.yaml';

const shopWith = (...changes: Parameters<typeof libraryWith>[1]) => libraryWith(base, changes);
const told = (library: ReturnType<typeof libraryWith>) => found(library).map(({ place, rule, message }) => `${place} ${rule}: ${message}`);

it('of the ways that are wholly open, the one with the most openings', () => {
  const ways = [{ through: ['tap'] }, { through: ['tap', 'plug'] }, { through: ['tap', 'plug', 'hose'] }, { through: ['hose', 'plug'] }];
  const by = (...opened: string[]) => wayThrough(ways, new Set(opened))?.through.join('+');
  expect([by('tap'), by('plug', 'tap'), by('plug', 'hose'), by('plug'), by()]).toEqual([
    'tap',
    'tap+plug',
    'hose+plug',
    undefined,
    undefined,
  ]);
  expect(wayThrough(undefined, new Set(['tap']))).toBeUndefined();
});

// Mass balance with perfect mixing: 1 − (1 − d/C)^n. Of 8 L, with 5 L each time 62.5 and 85.9 %; with 7 L 87.5 % at once.
it('changes a fluid as often as what comes out of the opened openings asks, not as often as of the first', () => {
  const ways = [
    [
      van,
      'drains: [{ through: [tap], gives: 5 L }]',
      'drains: [{ through: [tap], gives: 5 L }, { through: [tap, block-plug], gives: 7 L }]',
    ],
    [van, '    form: ready\n', '    form: ready\n    new-share: min 85 %\n'],
    [van, 'parts:\n', 'parts:\n  block-plug: { name: block plug, circuit: coolant }\n'],
    [work, 'steps:\n', 'repeat: coolant\nsteps:\n'],
  ] as const;
  const rounds = (library: ReturnType<typeof libraryWith>) => {
    const [fluid] = compiled(library, 'example-job').fluids;
    return [fluid?.rounds, fluid?.shares.at(-1), fluid?.pour];
  };
  expect(rounds(shopWith(...ways))).toEqual([2, '85.94', '10']);
  const both = shopWith(
    ...ways,
    [work, '- open: tap\n', '- open: [tap, block-plug]\n'],
    [work, '- close: tap\n', '- close: [tap, block-plug]\n'],
  );
  expect(rounds(both)).toEqual([1, '87.5', '7']);
  expect(told(both).filter((one) => one.includes('fluid/share'))).toEqual([]);
});

describe('a circuit without a way out', () => {
  const fuel = [van, 'fluids:\n', 'fluids:\n  fuel: { spec: F-1, capacity: 60 L }\n'] as const;

  it('that is only opened needs neither an item nor a waste class', () => {
    expect(told(shopWith(fuel))).toEqual(told(shopWith()));
  });

  it('that is filled in is asked for its item, at that step', () => {
    expect(
      told(shopWith(fuel, [work, '- fill: coolant\n', '- fill: coolant\n  - fill: fuel\n'])).filter((one) => one.includes('fluid/no-item')),
    ).toEqual([expect.stringMatching(/^procedures\/example\.yaml:\d+ fluid\/no-item: `fuel` names no `item:`/)]);
  });

  it('that is drained all the same is asked what comes out', () => {
    const drained = told(shopWith(fuel, [work, '- drain: coolant\n', '- drain: coolant\n  - drain: fuel\n']));
    expect(drained).toContainEqual(
      expect.stringMatching(
        /^procedures\/example\.yaml:\d+ fluid\/unknown-drain: `fuel` is drained here, and the vehicle profile knows no way out\./,
      ),
    );
  });
});
