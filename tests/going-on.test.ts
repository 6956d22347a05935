// What goes on new is bought once, in whatever words that is said.
import path from 'node:path';
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compiled, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

const texts = {
  ...textsOf(path.join(projectFolder, 'tests/fixtures/corner-garage'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
};
const [procedure, profile, catalogue] = [
  '/shop/procedures/thermostat-pump.yaml',
  '/shop/vehicles/dalby-18.yaml',
  '/shop/parts/dalby.yaml',
] as const;
const fit = '  - fit: coolant-pump\n    new: true\n';

/** A shop with some texts changed. */
function shopWith(...changes: readonly (readonly [file: keyof typeof texts, from: string, to: string])[]) {
  const changed: Record<string, string> = { ...texts };
  for (const [file, from, to] of changes) {
    expect(changed[file]).toContain(from);
    changed[file] = changed[file]?.replace(from, to) ?? '';
  }
  return libraryOf(changed);
}

/** How many of each item a job takes. */
const taken = (library: ReturnType<typeof libraryOf>, job = '3001-pump'): Record<string, number> =>
  Object.fromEntries(compiled(library, job).parts.demand.map(({ item, count }) => [item, count]));

const usual = taken(shopWith());

it.each([
  ['renewed and then fitted', [[procedure, fit, '  - renew: coolant-pump\n  - fit: coolant-pump\n']]],
  ['renewed and then fitted new', [[procedure, fit, `  - renew: coolant-pump\n${fit}`]]],
  [
    'never used again, renewed and then fitted',
    [
      [procedure, fit, '  - renew: coolant-pump\n  - fit: coolant-pump\n'],
      [profile, 'item: coolant-pump,', 'item: coolant-pump, reuse: never,'],
    ],
  ],
  [
    'renewed by the procedure, by a step of it, and then fitted',
    [
      [procedure, fit, '  - renew: coolant-pump\n  - fit: coolant-pump\n'],
      [procedure, 'steps:\n', 'renew: [coolant-pump]\nsteps:\n'],
    ],
  ],
] as const)('a part that is %s is one part, with one set of its seals', (_, changes) => {
  expect(usual).toMatchObject({ 'coolant-pump': 1, 'pump-gasket': 1 });
  expect(taken(shopWith(...changes))).toEqual(usual);
});

it('a part that comes off again between goes on twice, with new seals each time', () => {
  const twice = `${fit}  - tighten: coolant-pump\n  - remove: coolant-pump\n`;
  expect(taken(shopWith([procedure, fit, twice + fit]))).toEqual({ ...usual, 'coolant-pump': 2, 'pump-gasket': 2 });
  expect(taken(shopWith([procedure, fit, twice + fit.replace('    new: true\n', '')]))).toEqual({ ...usual, 'pump-gasket': 2 });
});

it('what is screwed in itself is taken with its thread, whether or not it is also said to be new', () => {
  const plugs = (steps: string, reuse = 'never') =>
    shopWith(
      [profile, 'parts:\n', 'parts:\n  glow-plugs: { name: glow plugs, count: 4, item: glow-plug, fasteners: plug-thread }\n'],
      [
        profile,
        'fasteners:\n',
        `fasteners:\n  plug-thread: { count: 4, thread: M10x1, drive: 10 AF, reuse: ${reuse}, item: glow-plug, threads: dry, stages: [{ torque: 10 N·m }] }\n`,
      ],
      [catalogue, 'items:\n', 'items:\n  glow-plug: { name: glow plug }\n'],
      [catalogue, 'offers:\n', 'offers:\n  - { number: "20", contains: { glow-plug: 1 }, price: 9.00 }\n'],
      [procedure, 'name: Renew the coolant pump and the thermostat', 'name: Renew the glow plugs'],
      [procedure, 'steps:\n', 'steps:\n  - remove: glow-plugs\n'],
      [procedure, 'close-up:\n', `close-up:\n${steps}  - tighten: glow-plugs\n`],
    );
  for (const steps of ['  - fit: glow-plugs\n', '  - fit: glow-plugs\n    new: true\n', '  - renew: glow-plugs\n  - fit: glow-plugs\n']) {
    expect(taken(plugs(steps)), steps).toEqual({ ...usual, 'glow-plug': 4 });
    expect(
      checkLibrary(plugs(steps)).map(({ rule }) => rule),
      steps,
    ).toEqual([]);
  }
});

it('bolts that are never used again go in new each time that they were tight, and a trial is made with the old ones', () => {
  const never = (closeUp: string) =>
    shopWith(
      [profile, 'x30, class: "8.8", drive: 12 AF, reuse: always', 'x30, class: "8.8", drive: 12 AF, reuse: never, item: pump-bolt'],
      [catalogue, 'items:\n', 'items:\n  pump-bolt: { name: pump bolt }\n'],
      [catalogue, 'offers:\n', 'offers:\n  - { number: "21", contains: { pump-bolt: 5 }, price: 6.00 }\n'],
      [procedure, `${fit}  - tighten: coolant-pump\n`, closeUp],
    );
  const rules = (library: ReturnType<typeof libraryOf>) => checkLibrary(library).map(({ rule }) => rule);
  const on = `${fit}  - tighten: coolant-pump\n`;
  const off = '  - remove: coolant-pump\n';
  const trial = '  - fit: coolant-pump\n    new: false\n  - tighten: coolant-pump\n    new: false\n';
  expect(taken(never(on))).toEqual({ ...usual, 'pump-bolt': 5 });
  expect(rules(never(on))).toEqual([]);
  // Stage by stage is once.
  const stages = `${fit}  - tighten: coolant-pump\n    stages: [1]\n  - tighten: coolant-pump\n    stages: [2]\n`;
  expect(taken(never(stages))).toEqual({ ...usual, 'pump-bolt': 5 });
  // As is what was not tight yet when it came off again, and what was loosened first.
  const begun = `${fit}  - tighten: coolant-pump\n    stages: [1]\n${off}${on}`;
  expect(taken(never(begun))).toMatchObject({ 'pump-bolt': 5 });
  const again = `${on}${off}${on.replace('    new: true\n', '')}`;
  expect(taken(never(again))).toEqual({ ...usual, 'pump-bolt': 10, 'pump-gasket': 2 });
  expect(rules(never(again))).toContain('parts/new-again');
  expect(taken(never(`${on}  - loosen: coolant-pump\n  - tighten: coolant-pump\n`))).toEqual({ ...usual, 'pump-bolt': 10 });

  const tried = never(trial + off + on);
  expect(taken(tried)).toEqual({ ...usual, 'pump-bolt': 5 });
  expect(rules(tried)).toEqual([]);
  // By the name of the group, too.
  expect(rules(never(trial.replace('tighten: coolant-pump', 'tighten: pump-bolts') + off + on))).toEqual([]);
  expect(rules(never(trial + off + on.replace('tighten: coolant-pump', 'tighten: pump-bolts')))).toEqual([]);
  const steps = compiled(tried, '3001-pump').steps.filter(({ objects }) => objects.some(({ id }) => id === 'coolant-pump'));
  expect(steps.map(({ verb, trial: isTrial, parts }) => [verb, isTrial, parts.length > 0])).toEqual([
    ['remove', false, false],
    ['fit', true, false],
    ['tighten', true, false],
    ['remove', false, false],
    ['fit', false, true],
    ['tighten', false, true],
  ]);
  expect(rules(never(trial))).toEqual(expect.arrayContaining(['parts/trial-stays', 'parts/trial-stays']));
});

it('an old part that is put on for a trial and stays is told, whoever says that it is to be new; what is renewed is new', () => {
  const rules = (library: ReturnType<typeof libraryOf>) => checkLibrary(library).map(({ rule }) => rule);
  const old = fit.replace('new: true', 'new: false');
  const renewed = shopWith([procedure, fit, old], [procedure, 'steps:\n', 'renew: [coolant-pump]\nsteps:\n']);
  expect(taken(renewed)).not.toHaveProperty('coolant-pump');
  expect(rules(renewed)).toContain('parts/trial-stays');
  const seals = shopWith([procedure, fit, old]);
  expect(taken(seals)).not.toHaveProperty('pump-gasket');
  expect(rules(seals)).toContain('parts/trial-stays');
  // Of what takes nothing new it says nothing.
  expect(rules(shopWith([procedure, '  - fit: drive-belt\n', '  - fit: drive-belt\n    new: false\n']))).toEqual([]);
  const both = shopWith([procedure, fit, '  - renew: coolant-pump\n    new: false\n  - fit: coolant-pump\n']);
  expect(taken(both)).toEqual(usual);
  expect(rules(both)).toEqual([]);
});

const clips = (said: string) =>
  [
    [procedure, 'tighten: coolant-pump\n', 'tighten: pump-bolts\n'],
    [profile, 'fasteners: pump-bolts', 'fasteners: [pump-bolts, pump-clips]'],
    [profile, 'fasteners:\n', `fasteners:\n  pump-clips: { name: pump clips, count: 3, method: clip, item: pump-gasket, ${said} }\n`],
  ] as const;

it('clips and rings that are never used again go on new with their part, each time it goes on, or in the step that puts them in', () => {
  const four = { ...usual, 'pump-gasket': 4 };
  expect(taken(shopWith(...clips('reuse: never')))).toEqual(four);
  expect(taken(shopWith(...clips('reuse: always')))).toEqual(usual);
  const library = shopWith(...clips('reuse: never'));
  const step = compiled(library, '3001-pump').steps.find(
    ({ verb, objects }) => verb === 'fit' && objects.some(({ id }) => id === 'coolant-pump'),
  );
  expect(step?.parts.map(({ item, count }) => [item, count])).toContainEqual(['pump-gasket', 4]);
  expect(taken(shopWith(...clips('reuse: never'), [procedure, fit, `${fit}  - tighten: pump-clips\n`]))).toEqual(four);
  const trial = `${fit.replace('new: true', 'new: false')}  - tighten: pump-bolts\n  - remove: coolant-pump\n${fit}`;
  expect(taken(shopWith(...clips('reuse: never'), [procedure, fit, trial]))).toEqual(four);
  expect(
    taken(shopWith(...clips('reuse: never'), [procedure, fit, `${fit}  - tighten: pump-bolts\n  - remove: coolant-pump\n${fit}`])),
  ).toMatchObject({
    'pump-gasket': 8,
  });
});
